import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { Page } from 'playwright-core';

const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

interface AxeFinding {
  id: string;
  impact: string;
  nodes: { html: string; failureSummary: string }[];
}

/** Serious and critical findings of the accessibility check, as text. */
export async function seriousFindings(page: Page): Promise<string[]> {
  await page.evaluate(AXE);
  const found = await page.evaluate(async () => {
    const { axe } = globalThis as unknown as { axe: { run: (o: object) => Promise<{ violations: AxeFinding[] }> } };
    return (await axe.run({ iframes: false })).violations;
  });
  return found
    .filter((f) => f.impact === 'serious' || f.impact === 'critical')
    .flatMap((f) => f.nodes.map((n) => `${f.id}: ${n.html.slice(0, 160)} ${n.failureSummary}`));
}
