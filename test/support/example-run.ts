import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';

/** Opens the example and waits for its answer. */
export async function measureExample(page: Page): Promise<void> {
  await page.getByRole('button', { name: 'Open the example' }).click();
  await page.getByRole('button', { name: 'Measure again' }).waitFor({ timeout: 120_000 });
  await page.getByRole('application', { name: /^Surface map/ }).waitFor();
}

export async function goTo(page: Page, name: 'Part' | 'Stock' | 'Sections' | 'Report'): Promise<void> {
  await page.getByRole('navigation').getByRole('button', { name, exact: true }).click();
  await page.getByRole('main', { name }).waitFor();
}

/** Text of the results file as the Report page gives it. */
export async function resultsDownload(page: Page): Promise<string> {
  await goTo(page, 'Report');
  const download = page.waitForEvent('download');
  await page.getByRole('button', { name: 'All results (JSON)' }).click();
  return readFileSync(await (await download).path(), 'utf8');
}
