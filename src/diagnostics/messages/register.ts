import type { Wording } from '../wording.ts';

/** The register of a project, the files that it includes, and the givens that its items fill. */
export const registerMessages = {
  'include-path': (d: { file: string }): Wording => ({
    message: `'${d.file}' does not name a file of the project`,
    hint: 'write its path from the folder of project.yaml, with forward strokes and within the project: devices/arresters.yaml',
  }),
  'include-kind': (d: { file: string }): Wording => ({
    message: `'${d.file}' is not a register that can be included`,
    hint: 'a register is a .yaml file or a .csv table',
  }),
  'include-without-section': (d: { file: string }): Wording => ({
    message: `the table '${d.file}' does not say to which section of the register its rows belong`,
    hint: `write { file: ${d.file}, as: equipment }`,
  }),
  'include-not-a-table': (d: { file: string }): Wording => ({
    message: `'as' and 'columns' are for tables; '${d.file}' has sections of its own`,
    hint: `write the path alone: ${d.file}`,
  }),
  'no-such-column': (d: {
    column: string;
    file: string;
    nearest: string | undefined;
    known: readonly string[];
  }): Wording => ({
    message: `'${d.file}' has no column '${d.column}'`,
    hint: d.nearest
      ? `did you mean '${d.nearest}'?`
      : `its columns are ${d.known.filter((name) => name !== '').join(', ')}`,
  }),
  'unit-of-column': (d: { column: string; head: string; unit: string }): Wording => ({
    message: `the header of '${d.column}' says ${d.head}, and the list of columns ${d.unit}`,
    hint: 'leave the unit out of the list of columns',
  }),
  'columns-of-one-value': (d: { name: string; columns: readonly string[] }): Wording => ({
    message: `the columns ${d.columns.map((column) => `'${column}'`).join(' and ')} are both '${d.name}'`,
    hint: 'rename one of them, or list under columns: those that count',
  }),
  'unit-of-cell': (d: { own: string; unit: string }): Wording => ({
    message: `the column is in ${d.unit}; this cell says ${d.own}`,
    hint: `write the number in ${d.unit}`,
  }),
  'item-without-name': (d: { column: string }): Wording => ({
    message: 'the row has values and no name',
    hint: `write into the column '${d.column}' how the notes are to call it, such as SPD1`,
  }),
  'include-twice': (d: { file: string }): Wording => ({
    message: `'${d.file}' is included twice`,
    hint: 'keep one of the two',
  }),
  'include-missing': (d: { file: string }): Wording => ({
    message: `the register '${d.file}' is not in the project`,
    hint: 'its path counts from the folder of project.yaml: put the file there, or correct the path',
  }),
  'include-within-include': (_: Record<string, never>): Wording => ({
    message: 'a register that is included cannot include others',
    hint: 'list every file under include: in project.yaml',
  }),
  'belongs-to-project': (d: { key: string }): Wording => ({
    message: `'${d.key}' belongs in project.yaml; a register has sections alone`,
    hint: 'write a section, such as equipment:, and below it an item with its values',
  }),
  'item-in-two-files': (d: { item: string; first: string }): Wording => ({
    message: `'${d.item}' is in ${d.first} too: an item has one place`,
    hint: 'keep it once, or give the other a name of its own',
  }),
  'unknown-item': (d: {
    item: string;
    nearest: string | undefined;
    /** The path is that of one value, and `nearest` the item to which it belongs. */
    isValue: boolean;
  }): Wording => ({
    message: d.isValue
      ? `'${d.item}' is one value of the register; givens are filled from an item, which has several`
      : `the register has no item '${d.item}'`,
    hint: d.isValue
      ? `write ${d.nearest}, or under 'given' a reference: !ref ${d.item}`
      : d.nearest
        ? `did you mean '${d.nearest}'?`
        : 'write section and item as the register has them, such as equipment.SPD1',
  }),
  'item-twice': (d: { item: string }): Wording => ({
    message: `'${d.item}' is in the list twice`,
    hint: 'keep one of the two',
  }),
  'item-offers-nothing': (d: {
    item: string;
    calculation: string;
    has: readonly string[];
    /** Values whose names are nearly that of a given. */
    pairs: readonly { readonly name: string; readonly given: string }[];
  }): Wording => ({
    message: `'${d.item}' fills no given of ${d.calculation}: it has ${d.has.join(', ')}`,
    hint:
      d.pairs.length > 0
        ? `did the register mean ${d.pairs.map(({ name, given }) => `'${given}' by '${name}'`).join(', ')}? Its values bear the names of givens`
        : `its values must bear the names of givens: surgenote describe ${d.calculation} lists them`,
  }),
  'offered-twice': (d: { given: string; items: readonly string[] }): Wording => ({
    message: `${d.items.map((item) => `'${item}'`).join(' and ')} both have '${d.given}', and the block does not say which counts`,
    hint: `write it under 'given': ${d.given}: !ref ${d.items[0]}.${d.given}`,
  }),
  'base-writes-it': (d: { item: string; given: string; base: string }): Wording => ({
    message: `'${d.item}' has '${d.given}', and the base '${d.base}' writes it, or an alternative to it: that stays`,
    hint: `to take the value of the register, write it under 'given': ${d.given}: !ref ${d.item}.${d.given}`,
  }),
  'item-lacks': (d: { item: string; replaced: string; base: string; given: string }): Wording => ({
    message: `'${d.item}' takes the place of '${d.replaced}' in the base '${d.base}' and does not have '${d.given}', which that one fills: nothing fills it here`,
    hint: `write it under 'given', or add it to '${d.item}' in the register; where it is meant, leave it out: without: [${d.given}]`,
  }),
  'offered-alternatives': (d: { names: readonly string[]; item: string }): Wording => ({
    message: `the register has ${d.names.map((name) => `'${name}'`).join(' and ')}, of which the calculation takes one`,
    hint: `write the one that counts under 'given': ${d.names[0]}: !ref ${d.item}.${d.names[0]}`,
  }),
};
