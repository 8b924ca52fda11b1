/** Which things lie in one closed loop together, by the graph's blocks (Hopcroft and Tarjan, 1973). */

interface Link {
  readonly id: string;
  readonly a: string;
  readonly b: string;
}

/** The block of each edge: two edges share a block when some closed loop runs through both. A loop of one edge alone has none. */
export function blocksOf(edges: readonly Link[]): ReadonlyMap<string, number> {
  const graph = graphOf(edges);
  const { ends, firstOf, places } = graph;
  const points = firstOf.length - 1;
  const order = new Int32Array(points).fill(-1);
  const low = new Int32Array(points);
  const next = firstOf.slice(0, points);
  const from = new Int32Array(points).fill(-1);
  const block = new Int32Array(edges.length).fill(-1);
  const sizes: number[] = [];
  const open: number[] = [];
  const path: number[] = [];
  let seen = 0;

  const closeBlock = (until: number): void => {
    const number = sizes.push(0) - 1;
    for (let edge = open.pop(); edge !== undefined; edge = open.pop()) {
      block[edge] = number;
      sizes[number]!++;
      if (edge === until) return;
    }
  };

  for (let start = 0; start < points; start++) {
    if (order[start] !== -1) continue;
    order[start] = low[start] = seen++;
    path.push(start);
    while (path.length > 0) {
      const here = path.at(-1)!;
      if (next[here]! < firstOf[here + 1]!) {
        const edge = places[next[here]!++]!;
        if (edge === from[here]) continue;
        const to = ends[2 * edge] === here ? ends[2 * edge + 1]! : ends[2 * edge]!;
        if (order[to] === -1) {
          open.push(edge);
          order[to] = low[to] = seen++;
          from[to] = edge;
          path.push(to);
        } else if (order[to]! < order[here]!) {
          open.push(edge);
          low[here] = Math.min(low[here]!, order[to]!);
        }
        continue;
      }
      path.pop();
      const above = path.at(-1);
      if (above === undefined) continue;
      low[above] = Math.min(low[above]!, low[here]!);
      if (low[here]! >= order[above]!) closeBlock(from[here]!);
    }
  }
  // A block of a single edge is no loop.
  const found = new Map<string, number>();
  edges.forEach(({ id }, edge) => {
    const number = block[edge]!;
    if (number !== -1 && sizes[number]! > 1) found.set(id, number);
  });
  return found;
}

/** Points by numbers: the two ends of each edge, and the edges at each point from `firstOf` on among `places`. */
function graphOf(edges: readonly Link[]) {
  const numbers = new Map<string, number>();
  const numberOf = (point: string): number => {
    let number = numbers.get(point);
    if (number === undefined) {
      number = numbers.size;
      numbers.set(point, number);
    }
    return number;
  };
  const ends = new Int32Array(2 * edges.length);
  edges.forEach(({ a, b }, edge) => {
    ends[2 * edge] = numberOf(a);
    ends[2 * edge + 1] = numberOf(b);
  });
  const firstOf = new Int32Array(numbers.size + 1);
  const isLoop = (edge: number): boolean => ends[2 * edge] === ends[2 * edge + 1];
  for (let edge = 0; edge < edges.length; edge++) {
    if (isLoop(edge)) continue;
    firstOf[ends[2 * edge]! + 1]!++;
    firstOf[ends[2 * edge + 1]! + 1]!++;
  }
  for (let point = 0; point < numbers.size; point++) firstOf[point + 1]! += firstOf[point]!;
  const places = new Int32Array(firstOf[numbers.size]!);
  const filled = firstOf.slice();
  for (let edge = 0; edge < edges.length; edge++) {
    if (isLoop(edge)) continue;
    places[filled[ends[2 * edge]!]!++] = edge;
    places[filled[ends[2 * edge + 1]!]!++] = edge;
  }
  return { ends, firstOf, places };
}
