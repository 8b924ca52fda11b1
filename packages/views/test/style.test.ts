// Contrast as WCAG 2.1 defines it (relative luminance, success criteria 1.4.3 and 1.4.11).
import { describe, expect, test } from 'vitest';
import { budgetStyle } from '../src/budget-style.js';
import { darkColours, lightColours, pageStyle } from '../src/page-style.js';

function luminance(colour: string): number {
  const [red = 0, green = 0, blue = 0] = [1, 3, 5].map((at) => {
    const share = Number.parseInt(colour.slice(at, at + 2), 16) / 255;
    return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
}

function contrast(one: string, other: string): number {
  const [lighter, darker] = [luminance(one), luminance(other)].sort((a, b) => b - a);
  return (lighter! + 0.05) / (darker! + 0.05);
}

test('contrast is computed as WCAG has it', () => {
  expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 5);
  // The grey that is commonly given as the lightest to pass on white.
  expect(contrast('#767676', '#ffffff')).toBeCloseTo(4.54, 2);
});

describe.each([
  ['light', lightColours],
  ['dark', darkColours],
  ['printed', { ...lightColours, paper: '#ffffff' }],
])('%s', (_name, colours) => {
  test.each(['ink', 'dim', 'error', 'warning', 'note'] as const)('%s reads on the paper', (name) => {
    expect(contrast(colours[name], colours.paper)).toBeGreaterThanOrEqual(4.5);
  });

  test.each([
    ['strong', 'paper'],
    ['soft', 'paper'],
    ['edge', 'paper'],
    ['error', 'paper'],
    ['strong', 'band'],
    ['soft', 'band'],
    ['edge', 'band'],
    ['soft', 'track'],
    ['strong', 'track'],
  ] as const)('%s stands out from %s', (mark, ground) => {
    expect(contrast(colours[mark], colours[ground])).toBeGreaterThanOrEqual(3);
  });
});

test('the sheet takes every colour from the surface it stands on', () => {
  expect(budgetStyle).not.toMatch(/#[0-9a-f]{3,8}\b|rgba?\(|hsla?\(/i);
  const used = new Set([...budgetStyle.matchAll(/var\(--([\w-]+)/g)].map((match) => match[1]!));
  const given = new Set([...pageStyle.matchAll(/--([\w-]+):/g)].map((match) => match[1]!));
  expect([...used].filter((name) => !given.has(name))).toEqual([]);
});
