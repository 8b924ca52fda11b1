/** What axe-core leaves in a page once its script has run there. */
interface Window {
  axe: { run(): Promise<{ violations: readonly { id: string; nodes: readonly { html: string }[] }[] }> };
}
