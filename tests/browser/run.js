// SPDX-License-Identifier: GPL-3.0-or-later
// Runs the tests of the pages, or says what is missing and ends with 77.
import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';

const SKIPPED = 77;

function skip(what) {
    console.log(`skipped: ${what}`);
    process.exit(SKIPPED);
}

if (!existsSync(new URL('node_modules/playwright-core', import.meta.url)))
    skip('playwright-core is missing: run `npm ci` in tests/browser');
const { findBrowser, NAMES } = await import('./browser.js');
if (!findBrowser()) skip(`no browser: install one of ${NAMES.join(', ')}`);
const words = ['--test', '--test-reporter=spec', 'pages.test.js'];
process.exit(spawnSync(process.execPath, words, { stdio: 'inherit' }).status ?? 1);
