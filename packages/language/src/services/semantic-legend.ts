/** The protocol's kinds of names that are told apart, by its own words for them. */

export const SEMANTIC_LEGEND = {
  tokenTypes: ['namespace', 'type', 'variable', 'property'],
  tokenModifiers: ['declaration', 'defaultLibrary'],
};
