/** Whether two columns hold the same. */
export function isEqual(one: Uint8Array | Int32Array, other: Uint8Array | Int32Array): boolean {
  if (one === other) return true;
  if (one.length !== other.length) return false;
  for (let k = 0; k < one.length; k++) if (one[k] !== other[k]) return false;
  return true;
}
