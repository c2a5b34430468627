// Gets a Chromium for the browser tests: the one that is there, else the Debian package as root, else Playwright's own.
import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { findChromium } from './chromium.mjs';

const APT = ['-y', '-o', 'DPkg::Lock::Timeout=300'];

function runs(program, args) {
  const env = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' };
  return spawnSync(program, args, { stdio: ['ignore', 'inherit', 'inherit'], env }).status === 0;
}

function fromDebian() {
  if (process.getuid?.() !== 0 || !existsSync('/usr/bin/apt-get')) return;
  if (runs('apt-get', [...APT, 'update'])) runs('apt-get', [...APT, 'install', '--no-install-recommends', 'chromium']);
}

function fromPlaywright() {
  runs(process.execPath, ['node_modules/playwright/cli.js', 'install', 'chromium']);
}

/** Path of a Chromium, installed when missing and allowed; undefined when none can be had. */
export function getChromium() {
  for (const install of [() => {}, fromDebian, fromPlaywright]) {
    install();
    const found = findChromium();
    if (found) return found;
    // A path the user names is never replaced by another browser.
    if (process.env.CHROMIUM_PATH) return undefined;
  }
  return undefined;
}

/** What to do when no Chromium can be had, in one line. */
export const NO_CHROMIUM =
  'No Chromium found: install one (Debian: apt-get install chromium) or set CHROMIUM_PATH to its program, then run npm test again.';
