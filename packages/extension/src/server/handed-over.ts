/** What the script that a desktop starts hands over to the server's, which is a bundle of its own. */

export type Id = string | number | null;

export interface HandedOver {
  /** The request that has been answered already, and that the server will answer once more. */
  readonly answered: Id | undefined;
  /** Stops listening; answers with the messages that have come in, or puts back into the stream what was read of it. */
  takeBack(): unknown[];
}

const PLACE = Symbol.for('ohmstead.handed-over');

export function handOver(handed: HandedOver): void {
  (globalThis as Record<symbol, unknown>)[PLACE] = handed;
}

/** Undefined where the server has been started by itself. */
export function handedOver(): HandedOver | undefined {
  return (globalThis as Record<symbol, unknown>)[PLACE] as HandedOver | undefined;
}
