export declare function recordOf(lines: number): string;
export declare function keystrokes(text: string, count: number): { start: number; end: number; text: string }[];
