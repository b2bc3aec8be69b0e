/** A formula of the author's own in an item of a list, an assumption and an open point: what notes of hostile trials end with. */
export const FORMULA_AND_REGISTERS = `1. Item

   \`\`\`yaml formula
   id: two
   given:
     part: { value: 0.4 m, symbol: p, meaning: part, unit: m }
   steps:
     length: { symbol: l, meaning: length, unit: m, formula: 2 * part, source: own }
   checks:
     short: { criterion: short, value: length, relation: "<=", limit: 1 m, force: requirement, source: own }
   \`\`\`

\`\`\`yaml assumptions
- { id: A1, text: The lead is straight., basis: survey, state: to be confirmed }
\`\`\`

\`\`\`yaml holds
- { id: H1, missing: Length of the lead, effect: block one, owner: client, due: 2031-06-20 }
\`\`\`
`;
