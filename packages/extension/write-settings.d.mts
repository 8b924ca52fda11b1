/** The README with the settings as the manifest has them; throws where it has no section for them. */
export function withSettings(readme: string, manifest: object): string;
