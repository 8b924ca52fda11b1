/** A striped conductor is the same whichever colour is named first. */
export function sameColour(one: string, other: string): boolean {
  return settled(one) === settled(other);
}

function settled(colour: string): string {
  return colour.toLowerCase().split('/').sort().join('/');
}
