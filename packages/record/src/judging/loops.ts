/** Which things lie in one closed loop together, by the graph's blocks (Hopcroft and Tarjan, 1973). */

interface Link {
  readonly id: string;
  readonly a: string;
  readonly b: string;
}

/** The block of each edge: two edges share a block when some closed loop runs through both. A loop of one edge alone has none. */
export function blocksOf(edges: readonly Link[]): ReadonlyMap<string, number> {
  const adjacent = new Map<string, { readonly to: string; readonly edge: Link }[]>();
  const meet = (from: string, to: string, edge: Link) => {
    const list = adjacent.get(from);
    if (list) list.push({ to, edge });
    else adjacent.set(from, [{ to, edge }]);
  };
  for (const edge of edges) {
    if (edge.a === edge.b) continue;
    meet(edge.a, edge.b, edge);
    meet(edge.b, edge.a, edge);
  }

  const block = new Map<string, number>();
  const order = new Map<string, number>();
  const low = new Map<string, number>();
  const open: Link[] = [];
  let blocks = 0;

  for (const start of adjacent.keys()) {
    if (order.has(start)) continue;
    order.set(start, order.size);
    low.set(start, order.get(start)!);
    const path: { point: string; from: Link | undefined; next: number }[] = [
      { point: start, from: undefined, next: 0 },
    ];
    while (path.length > 0) {
      const here = path.at(-1)!;
      const step = adjacent.get(here.point)![here.next++];
      if (step !== undefined) {
        if (step.edge === here.from) continue;
        const seen = order.get(step.to);
        if (seen === undefined) {
          open.push(step.edge);
          order.set(step.to, order.size);
          low.set(step.to, order.get(step.to)!);
          path.push({ point: step.to, from: step.edge, next: 0 });
        } else if (seen < order.get(here.point)!) {
          open.push(step.edge);
          low.set(here.point, Math.min(low.get(here.point)!, seen));
        }
        continue;
      }
      path.pop();
      const above = path.at(-1);
      if (above === undefined) continue;
      low.set(above.point, Math.min(low.get(above.point)!, low.get(here.point)!));
      if (low.get(here.point)! >= order.get(above.point)!) closeBlock(open, here.from!, block, blocks++);
    }
  }
  return dropBridges(block);
}

function closeBlock(open: Link[], until: Link, block: Map<string, number>, number: number): void {
  for (let edge = open.pop(); edge !== undefined; edge = open.pop()) {
    block.set(edge.id, number);
    if (edge === until) return;
  }
}

/** A block of a single edge is no loop. */
function dropBridges(block: Map<string, number>): Map<string, number> {
  const sizes = new Map<number, number>();
  for (const number of block.values()) sizes.set(number, (sizes.get(number) ?? 0) + 1);
  return new Map([...block].filter(([, number]) => sizes.get(number)! > 1));
}
