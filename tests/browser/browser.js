// SPDX-License-Identifier: GPL-3.0-or-later
// A browser of the system, the pages that the program writes, and what is read off them.
import { execFileSync } from 'node:child_process';
import { accessSync, constants, mkdtempSync, rmSync } from 'node:fs';
import { delimiter, join } from 'node:path';
import { tmpdir } from 'node:os';
import { pathToFileURL } from 'node:url';
import { chromium } from 'playwright-core';

export const NAMES = ['chromium', 'chromium-browser'];

export function findBrowser() {
    for (const folder of (process.env.PATH ?? '').split(delimiter))
        for (const name of NAMES)
            try {
                accessSync(join(folder, name), constants.X_OK);
                return join(folder, name);
            } catch {
                // not in this folder
            }
    return null;
}

// As root there is no sandbox; nothing but the files given is opened.
export function launch() {
    return chromium.launch({
        executablePath: findBrowser(),
        args: [
            '--no-sandbox',
            '--disable-gpu',
            '--disable-background-networking',
            '--disable-component-update',
            '--disable-sync',
            '--no-first-run',
        ],
    });
}

export function makeFolder() {
    const folder = mkdtempSync(join(tmpdir(), 'farend-pages-'));
    process.on('exit', () => rmSync(folder, { recursive: true, force: true }));
    return folder;
}

// Runs the program and returns what it printed; throws where it does not end with 0.
export function farend(...words) {
    return execFileSync(process.env.FAREND_PROGRAM, words, {
        encoding: 'utf8',
        maxBuffer: 1 << 26,
        stdio: ['ignore', 'pipe', 'pipe'],
    });
}

// Opens a file and gathers whatever the page says, asks for, or tries to do.
export async function open(browser, file, look = {}) {
    const { width = 1280, scheme = 'light', media = 'screen' } = look;
    const context = await browser.newContext({
        viewport: { width, height: 900 },
        colorScheme: scheme,
    });
    const page = await context.newPage();
    const url = pathToFileURL(file).href;
    const said = [];
    page.on('console', (message) => said.push(`console: ${message.text()}`));
    page.on('pageerror', (error) => said.push(`error: ${error.message}`));
    page.on('dialog', (dialog) => {
        said.push(`dialog: ${dialog.message()}`);
        dialog.dismiss();
    });
    page.on('request', (request) => {
        if (request.url() !== url && !request.url().startsWith('data:'))
            said.push(`request: ${request.url()}`);
    });
    await page.emulateMedia({ media, colorScheme: scheme });
    await page.goto(url);
    return { page, said, close: () => context.close() };
}
