/** Figures as words: at most four significant digits, with their unit. */
export function withUnit(value: number, unit: string): string {
  return `${shortFigure(value)} ${unit}`;
}

export function asPercent(share: number): string {
  return `${shortFigure(share * 100)} %`;
}

export function shortFigure(value: number): string {
  return String(Number(value.toPrecision(4)));
}
