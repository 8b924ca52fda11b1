/** The day at the place where somebody holds the meter, as the notation has it: `2026-11-20`. */
export function dayOf(now: Date): string {
  const two = (figure: number) => String(figure).padStart(2, '0');
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}
