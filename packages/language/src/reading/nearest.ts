/** Known names near to one that is not known. */

/** Up to `most` known names that a slip of the keys could have meant, the nearest first; else those that go on from it. */
export function nearestNames(name: string, known: readonly string[], most = 3): readonly string[] {
  const written = name.toLowerCase();
  const allowed = written.length <= 3 ? 1 : written.length <= 8 ? 2 : 3;
  const near: { readonly name: string; readonly distance: number }[] = [];
  for (const candidate of known) {
    if (Math.abs(candidate.length - written.length) > allowed) continue;
    const distance = editDistance(written, candidate.toLowerCase(), allowed);
    if (distance <= allowed && distance < written.length) near.push({ name: candidate, distance });
  }
  if (near.length === 0 && written.length > 2) {
    for (const candidate of known) {
      if (candidate.toLowerCase().startsWith(written)) near.push({ name: candidate, distance: candidate.length });
    }
    near.sort((a, b) => a.distance - b.distance || (a.name < b.name ? -1 : 1));
    return near.slice(0, most).map((one) => one.name);
  }
  near.sort((a, b) => a.distance - b.distance || (a.name < b.name ? -1 : 1));
  const best = near[0]?.distance;
  return near
    .filter((one) => one.distance === best)
    .slice(0, most)
    .map((one) => one.name);
}

/** Names of types near to one that is not known; where none is near, those that share most of its words: `electric-strike`, `door-strike`. */
export function nearestTypes(name: string, known: readonly string[], most = 3): readonly string[] {
  const near = nearestNames(name, known, most);
  if (near.length > 0) return near;
  const words = new Set(wordsOf(name));
  const shared = (candidate: string) => wordsOf(candidate).filter((word) => words.has(word)).length;
  const best = Math.max(1, ...known.map(shared));
  return known.filter((candidate) => shared(candidate) === best).slice(0, most);
}

/** Those that tell one type from another. */
function wordsOf(type: string): readonly string[] {
  return type
    .toLowerCase()
    .split('-')
    .filter((word) => word.length > 3);
}

/** Insertions, deletions, substitutions and swaps of neighbours from one word to another; more than `most` is not told apart. */
export function editDistance(a: string, b: string, most: number): number {
  let beforeLast: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, index) => index);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    let least = i;
    for (let j = 1; j <= b.length; j++) {
      const same = a[i - 1] === b[j - 1];
      let cost = Math.min(last[j]! + 1, row[j - 1]! + 1, last[j - 1]! + (same ? 0 : 1));
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1])
        cost = Math.min(cost, beforeLast[j - 2]! + 1);
      row.push(cost);
      least = Math.min(least, cost);
    }
    if (least > most) return most + 1;
    beforeLast = last;
    last = row;
  }
  return last[b.length]!;
}
