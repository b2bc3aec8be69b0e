/** What stands at another place that explains a diagnostic: key -> words. */
export const relatedNotes = {
  'first-used': (_: Nothing) => 'first used here',
  'first-written': (_: Nothing) => 'first written here',
  'column-here': (_: Nothing) => 'the column',
  'ends-here': (_: Nothing) => 'it ends here',
  'code-begins': (_: Nothing) => 'the code begins here',
  'register-entry': (_: Nothing) => 'the register entry',
  'stands-in-register': (_: Nothing) => 'as it is written in the register',
  'offered-here': (d: { given: string }) => `'${d.given}' comes from here`,
  'written-here': (_: Nothing) => 'written here',
  'taken-as': (d: { name: string }) => `taken as '${d.name}'`,
  'based-on': (d: { id: string; base: string }) => `'${d.id}' is based on '${d.base}' here`,
  'inherited-from': (d: { id: string }) => `written here, in '${d.id}'`,
  'gave-way': (d: { name: string; to: string }) =>
    `'${d.name}' of the base was replaced by its alternative '${d.to}'`,
  'refers-to': (d: { from: string; to: string }) => `'${d.from}' refers to '${d.to}' here`,
};

type Nothing = Readonly<Record<string, never>>;
