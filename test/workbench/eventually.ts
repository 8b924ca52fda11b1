import { setTimeout as pause } from 'node:timers/promises';

/**
 * Reads until what was read is accepted, and returns it; throws after `within` milliseconds with what was read last.
 * The limit is generous, because a shared machine may be slow: what counts is that the thing comes, not when.
 */
export async function eventually<T>(
  what: string,
  read: () => Promise<T>,
  accept: (value: T) => boolean,
  within = 45_000,
): Promise<T> {
  const end = Date.now() + within;
  for (;;) {
    const value = await read();
    if (accept(value)) {
      return value;
    }
    if (Date.now() > end) {
      throw new Error(`Waited ${within / 1000} s for ${what}; last seen: ${JSON.stringify(value)}`);
    }
    await pause(50);
  }
}
