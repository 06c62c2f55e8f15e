/** The one text of caution, shown once wherever people see pressures. */
export const cautions: readonly string[] = [
  "This is an engineering tool, not a medical device; its numbers are not a basis for starting, changing or stopping compression.",
  "Check the arterial supply of the limb before any compression is applied.",
  "Follow the local protocol; compression is applied by people licensed and trained to do so.",
  "Pain, numbness, a change of skin colour or breathlessness under compression are danger signs: remove it and seek help.",
];
