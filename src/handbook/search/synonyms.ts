/** Words and phrases by which practitioners mean one thing, and why they do. */
export interface Synonyms {
  readonly words: readonly string[];
  readonly because: string;
}

/** The synonyms of the trade. A phrase counts where its words stand in this order; endings are left out. */
export const SYNONYMS: readonly Synonyms[] = [
  {
    words: [
      'SPD',
      'surge protective device',
      'surge protection device',
      'surge protector',
      'surge suppressor',
    ],
    because: 'IEC 61643 says surge protective device, other codes and trade names the rest',
  },
  {
    words: ['arrester', 'surge arrester', 'lightning arrester', 'surge diverter'],
    because: 'surge diverter is the former British word; lightning arrester the older one of utilities',
  },
  { words: ['SPD', 'arrester'], because: 'electricians call the SPD of a board an arrester' },
  { words: ['earth', 'ground'], because: 'British and American English' },
  {
    words: ['lead', 'wire', 'wiring', 'conductor', 'connection'],
    because: 'the connecting leads of an arrester or SPD, as standards and as installers call them',
  },
  { words: ['touch voltage', 'touch potential'], because: 'IEC and IEEE, older and newer editions' },
  { words: ['step voltage', 'step potential'], because: 'IEC and IEEE, older and newer editions' },
  {
    words: ['electrode', 'rod', 'spike', 'stake', 'earth pit'],
    because: 'what is driven into the soil, in standards and on site',
  },
  {
    words: ['grid', 'mesh', 'mat'],
    because:
      'the meshed earth electrode of a substation: grid in IEEE Std 80, mesh in EN 50522, mat in older texts',
  },
  {
    words: ['flash', 'stroke', 'strike', 'struck'],
    because:
      'a flash holds one stroke or several; in everyday words lightning strikes, and a house was struck',
  },
  { words: ['down conductor', 'down lead'], because: 'IEC 62305 and the older word' },
  {
    words: ['air termination', 'lightning rod', 'air terminal', 'finial', 'mast'],
    because: 'IEC 62305, American standards and the older words',
  },
  {
    words: ['withstand', 'BIL', 'insulation level', 'impulse withstand'],
    because: 'IEC 60071 says withstand voltage, American practice basic impulse insulation level',
  },
  {
    words: [
      'residual voltage',
      'protection level',
      'protective level',
      'discharge voltage',
      'let-through voltage',
    ],
    because:
      'voltage that an arrester or SPD leaves, in the standards of high and low voltage and in data sheets',
  },
  { words: ['length', 'long', 'short'], because: 'the adjective of a question and the noun of a standard' },
  { words: ['distance', 'far', 'away', 'near', 'apart'], because: 'the adverb of a question and the noun' },
  {
    words: ['distance', 'gap', 'clearance', 'separation'],
    because: 'what lies between two parts, by subject',
  },
  { words: ['height', 'high', 'tall'], because: 'the adjective of a question and the noun of a standard' },
  { words: ['number', 'count', 'many'], because: 'the adjective of a question and the noun' },
  {
    words: ['frequency', 'rate', 'often', 'times a year', 'per year'],
    because: 'IEC 62305-2 counts dangerous events a year; people ask how often',
  },
  {
    words: ['heating', 'temperature', 'hot', 'melt', 'burn'],
    because: 'what happens to a conductor, and what is computed of it',
  },
  {
    words: ['section', 'size', 'thick', 'gauge'],
    because: 'cross-section in standards, size of a wire in trade',
  },
  {
    words: ['protective conductor', 'PE conductor', 'green yellow', 'circuit protective conductor'],
    because: 'IEC 60364 names it by its use, installers by its colour, BS 7671 in its own words',
  },
  {
    words: ['fault', 'short circuit'],
    because: 'a short circuit is the fault for which conductors are sized',
  },
  {
    words: ['fuse', 'back-up fuse', 'circuit breaker'],
    because: 'overcurrent protection of the branch of an SPD',
  },
  {
    words: ['board', 'distribution board', 'panel', 'consumer unit', 'fuse box', 'switchboard'],
    because: 'where SPDs stand, by country and by size',
  },
  {
    words: ['photovoltaic', 'PV', 'solar'],
    because: 'the standard’s word, its abbreviation and the everyday word',
  },
  { words: ['sheath', 'screen'], because: 'the metal layer of a single-core cable, by country' },
  { words: ['sheath voltage limiter', 'SVL'], because: 'abbreviation in the practice of cable engineers' },
  { words: ['structure', 'building', 'house', 'home'], because: 'IEC 62305 says structure of any building' },
  {
    words: ['table', 'CSV', 'spreadsheet', 'list'],
    because: 'a list of many like things, as it comes from the office',
  },
  { words: ['formula', 'equation'], because: 'both words are used for one thing' },
  {
    words: ['reference', 'take over', 'another note', 'reuse'],
    because: 'what a reference does, in plain words',
  },
  {
    words: ['range', 'tolerance', 'uncertain', 'deviation', 'between two limits'],
    because: 'why a value is given with a range',
  },
  {
    words: ['picture', 'image', 'photo', 'photograph', 'sketch'],
    because: 'what is put into a note from the site',
  },
  {
    words: ['pollution', 'salt', 'coastal', 'coast', 'dirt'],
    because: 'what makes insulators flash over, in plain words',
  },
  { words: ['altitude', 'elevation', 'above the sea'], because: 'height of the site, by country' },
  {
    words: ['insulator', 'bushing', 'insulation'],
    because: 'external insulation of which the creepage path is asked',
  },
  {
    words: ['fixing', 'bracket', 'clip', 'holder'],
    because: 'what holds a conductor, in standards and on site',
  },
  { words: ['flashover', 'spark', 'sparkover'], because: 'breakdown of a gap, along insulation or in air' },
  { words: ['need', 'necessary', 'required'], because: 'the question whether something must be done' },
  { words: ['danger', 'dangerous', 'hazard', 'safe', 'risk'], because: 'what is asked about people' },
  { words: ['people', 'person', 'human life'], because: 'whom touch and step voltages concern' },
  { words: ['coordination', 'co-ordination', 'coordinate'], because: 'spelling by country' },
  { words: ['decoupling', 'coil', 'inductor'], because: 'the element between two SPDs' },
  {
    words: ['resonant', 'compensated network', 'arc suppression coil'],
    because: 'earthing of the neutral through a coil, by its effect and by its device',
  },
  {
    words: ['four-electrode', 'four spikes', 'four pins', 'four point'],
    because: 'the measurement of soil resistivity, in reports and on site',
  },
  { words: ['station', 'substation', 'switchyard', 'yard'], because: 'the place in the words of utilities' },
  {
    words: ['zone', 'protected area', 'protected space', 'cone of protection'],
    because: 'older and newer words',
  },
  { words: ['sign', 'signature', 'sign-off'], because: 'what a person does, and what comes of it' },
  { words: ['margin', 'safety factor', 'protective ratio'], because: 'a margin is the ratio less one' },
  { words: ['spreadsheet', 'schedule', 'rows'], because: 'a schedule is made of the rows of a table' },
];
