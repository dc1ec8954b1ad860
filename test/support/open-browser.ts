import { execFile } from 'node:child_process';
import { promisify } from 'node:util';
import { type Browser, chromium } from 'playwright-core';
import { ensureProgram } from './ensure-program.js';

const NAMES = ['chromium', 'chromium-browser', 'google-chrome', 'google-chrome-stable'];

/** Starts a Chromium of this machine, without a window; it is installed with apt where it is missing and that is possible. */
export async function openBrowser(...switches: string[]): Promise<Browser> {
  const name = await ensureProgram({ names: NAMES, apt: 'chromium', otherwise: 'install Chromium or Chrome' });
  const { stdout } = await promisify(execFile)('sh', ['-c', 'command -v "$0"', name]);
  // Chromium refuses to confine itself for root.
  const args = process.geteuid?.() === 0 ? [...switches, '--no-sandbox'] : switches;
  return chromium.launch({ executablePath: stdout.trim(), args });
}
