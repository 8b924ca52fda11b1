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

  it('checks each edit at once as long as it keeps up with them', () => {
    for (let edit = 0; edit < 3; edit++) {
      queue.add(['a']);
      vi.advanceTimersByTime(5);
    }
    expect(steps).toEqual(['read a', 'check a', 'read a', 'check a', 'read a', 'check a']);
  });

  it('takes edits together that come while one waits for its check', () => {
    queue.add(['a']);
    vi.advanceTimersToNextTimer();
    for (let edit = 0; edit < 20; edit++) {
      queue.add(['a']);
      vi.advanceTimersByTime(5);
    }
    vi.runAllTimers();
    expect(steps).toEqual(['read a', 'read a', 'check a']);
  });

  it('never waits longer than a quarter of a second, however long the burst', () => {
    queue.add(['a']);
    vi.advanceTimersToNextTimer();
    for (let edit = 0; edit < 25; edit++) {
      queue.add(['a']);
      vi.advanceTimersByTime(10);
    }
    expect(steps).toEqual(['read a', 'check a']);
    vi.runAllTimers();
    expect(steps).toEqual(['read a', 'check a']);
  });

  it('checks every quarter of a second while edits come faster than a text is read', () => {
    const [reading, checking] = [20, 10];
    const takes = (ms: number) => vi.setSystemTime(Date.now() + ms);
    const began = Date.now();
    let [edits, checkedEdits] = [0, 0];
    const checkedAt: number[] = [];
    const typedInto = new CheckQueue({
      read: () => {
        takes(reading);
        // What is typed meanwhile arrives before the next step.
        if (edits < 400) typedInto.add(['a']);
      },
      check: () => {
        takes(checking);
        checkedAt.push(Date.now() - began);
        checkedEdits = edits;
      },
    });
    while (edits < 400) {
      edits++;
      typedInto.add(['a']);
      vi.advanceTimersByTime(5);
    }
    const typed = Date.now() - began;
    const waits = [...checkedAt, typed].map((at, index) => at - (checkedAt[index - 1] ?? 0));
    expect(Math.max(...waits)).toBeLessThanOrEqual(250 + 15 + 2 * reading + checking);
    expect(checkedAt.length).toBeGreaterThan(5);
    vi.runAllTimers();
    expect(checkedEdits).toBe(edits);
  });

  it('is not put off by edits without end, however dense', () => {
    queue.add(['a']);
    for (let edit = 0; edit < 1000; edit++) {
      queue.add(['a']);
      if (edit % 2 === 0) vi.advanceTimersByTime(1);
    }
    expect(steps).toContain('check a');
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
