/** Serves a folder on a free loopback port; isolated unless told otherwise, under a sub-path such as '/tools/blade'. */
export function serve(
  folder: string,
  options?: { isolated?: boolean; under?: string },
): Promise<{ url: string; close: () => Promise<void> }>;
