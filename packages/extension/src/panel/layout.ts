/** Laying drawings out, in a worker that is started with the first of them. */

import type { ELK, ElkNode } from 'elkjs';
import Elk from 'elkjs/lib/elk-api.js';

/** Layouts that are kept, so that a change of state alone draws at once. */
const KEPT = 8;

export class Layouts {
  private readonly kept = new Map<string, ElkNode>();
  private library: Promise<ELK> | undefined;

  /** `script` gives the library's code, once. */
  constructor(private readonly script: () => Promise<string>) {}

  /** One that has been made before. */
  known(graph: ElkNode): ElkNode | undefined {
    return this.kept.get(JSON.stringify(graph));
  }

  async of(graph: ElkNode): Promise<ElkNode> {
    const key = JSON.stringify(graph);
    const known = this.kept.get(key);
    if (known) return known;
    this.library ??= this.script().then(start);
    const laid = await (await this.library).layout(graph);
    this.kept.set(key, laid);
    const [oldest] = this.kept.keys();
    if (this.kept.size > KEPT && oldest !== undefined) this.kept.delete(oldest);
    return laid;
  }
}

function start(script: string): ELK {
  const url = URL.createObjectURL(new Blob([script], { type: 'text/javascript' }));
  // Its types describe the module of Node; the bundle takes the class itself.
  const Library = (Elk as unknown as { default?: typeof Elk }).default ?? Elk;
  return new (Library as unknown as new (how: object) => ELK)({
    algorithms: ['layered'],
    workerFactory: () => new Worker(url),
  });
}
