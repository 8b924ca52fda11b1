import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { CheckQueue } from '../../src/server/check-queue.js';

describe('CheckQueue', () => {
  let steps: string[];
  let queue: CheckQueue;

  beforeEach(() => {
    vi.useFakeTimers();
    steps = [];
    queue = new CheckQueue({ read: (uri) => steps.push(`read ${uri}`), check: (uri) => steps.push(`check ${uri}`) });
  });
  afterEach(() => {
    vi.useRealTimers();
  });

  it('reads and checks at once after a pause', () => {
    queue.add(['a']);
    vi.advanceTimersByTime(1);
    expect(steps).toEqual(['read a', 'check a']);
  });

  it('takes a burst of edits together', () => {
    vi.advanceTimersByTime(1000);
    for (let edit = 0; edit < 21; edit++) {
      queue.add(['a']);
      vi.advanceTimersByTime(5);
    }
    vi.runAllTimers();
    expect(steps.filter((step) => step === 'check a').length).toBeLessThanOrEqual(2);
    expect(steps.at(-1)).toBe('check a');
  });

  it('never waits longer than a quarter of a second, however long the burst', () => {
    for (let edit = 0; edit < 100; edit++) {
      queue.add(['a']);
      vi.advanceTimersByTime(10);
    }
    expect(steps.filter((step) => step === 'read a').length).toBeGreaterThanOrEqual(3);
  });

  it('drops the check of a text that was edited after it was read', () => {
    const edited = new CheckQueue({
      read: () => {
        steps.push('read');
        if (steps.length === 1) edited.add(['a']);
      },
      check: () => steps.push('check'),
    });
    edited.add(['a']);
    vi.runAllTimers();
    expect(steps).toEqual(['read', 'read', 'check']);
  });

  it('checks every record that was asked for, and none that is gone', () => {
    queue.add(['a', 'b', 'c']);
    queue.drop('b');
    vi.runAllTimers();
    expect(steps).toEqual(['read a', 'check a', 'read c', 'check c']);
  });
});
