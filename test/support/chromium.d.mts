/** Arguments a Chromium is started with in tests. */
export const chromiumArgs: string[];
/** Path of the first Chromium found, or undefined. */
export function findChromium(): string | undefined;
/** Path of a Chromium; the system place when none is found, so that the launch error names it. */
export function chromiumPath(): string;
