/** A schedule of boards whose leads stand in a table: the block as an author writes it. */
export const boardSchedule = (rows: string, lead: string): string => `\`\`\`yaml schedule
id: boards
calculation: spd-effective-protection-level
rows: ${rows}
row_id: board
columns: { lead_a: ${lead} }
given:
  spd_type: limiting
  circuit_length: 8 m
  lead_b: 0.1 m
  lead_c: 0.1 m
  protection_level: 1.2 kV
  impulse_withstand: 2.5 kV
\`\`\``;
