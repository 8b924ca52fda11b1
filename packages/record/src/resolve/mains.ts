/** The mains of a record's profile. */

import { MAINS, type MainsProfile } from '@ohmstead/circuit';

/** An unknown profile counts as the default one; the reader of the text reports it. */
export function mainsOf(profile: string): MainsProfile {
  return Object.values(MAINS).find(({ name }) => name === profile) ?? MAINS['north-america'];
}
