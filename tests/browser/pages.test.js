// SPDX-License-Identifier: GPL-3.0-or-later
// The pages of the example plans and of a hostile one, as somebody sees, hears and prints them.
import assert from 'node:assert/strict';
import { readdirSync } from 'node:fs';
import { basename, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { after, before, describe, it } from 'node:test';
import { farend, launch, makeFolder, open } from './browser.js';
import { weakLabels, weakWords } from './contrast.js';
import * as look from './look.js';
import { markWholes, pageCount, placesByName } from './paper.js';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));
const PLANS = [
    ...readdirSync(join(ROOT, 'examples'))
        .filter((name) => name.endsWith('.ini'))
        .map((name) => join(ROOT, 'examples', name)),
    join(ROOT, 'tests/hostile/markup.ini'),
];
const WIDTHS = [360, 768, 1280];
const SCHEMES = ['light', 'dark'];
// A4 less the margins of the style of a report and of a sheet, in CSS pixels of 1/96 inch.
const paperWidth = (margin_mm) => Math.floor(((210 - 2 * margin_mm) / 25.4) * 96);
const REPORT_WIDTH = paperWidth(17);
const SHEET_WIDTH = paperWidth(11);

const folder = makeFolder();
let browser;
before(async () => {
    browser = await launch();
});
after(() => browser?.close());

const nothing = (found, what) => assert.deepEqual(found, [], what);

async function withPage(file, options, use) {
    const opened = await open(browser, file, options);
    try {
        await use(opened.page);
        nothing(opened.said, 'the page says nothing and asks for nothing');
    } finally {
        await opened.close();
    }
}

// ---- What must be true of every page ----

const PHONE = 360;

function checkScreen(file, widths = WIDTHS) {
    it('needs no sideways scroll on a phone, inside tables neither', () =>
        withPage(file(), { width: PHONE }, async (page) => {
            nothing(await page.evaluate(look.wideTables));
        }));
    for (const width of widths)
        it(`shows every figure and fits ${width} px`, () =>
            withPage(file(), { width }, async (page) => {
                nothing(await page.evaluate(look.unseenFigures));
                nothing(await page.evaluate(look.overflows));
            }));
    it('keeps the labels of figures apart', () =>
        withPage(file(), {}, async (page) => {
            nothing(await page.evaluate(look.crowdedLabels));
        }));
    it('has no script and nowhere to put one', () =>
        withPage(file(), {}, async (page) => {
            nothing(await page.evaluate(look.scripts));
        }));
}

function checkContrast(file) {
    for (const scheme of SCHEMES)
        it(`keeps its contrast on a ${scheme} screen`, () =>
            withPage(file(), { scheme, width: 768 }, async (page) => {
                await page.evaluate(() => {
                    for (const part of document.querySelectorAll('details')) part.open = true;
                });
                const words = await weakWords(page);
                nothing(words.weak);
                assert.ok(words.count > 20, `${words.count} texts`);
                const empty = await page.context().newPage();
                for (const figure of await page.locator('figure svg[role=img]').all()) {
                    const labels = await weakLabels(page, figure, empty);
                    nothing(labels.weak, await figure.locator('title').first().textContent());
                    assert.ok(labels.count > 2, `${labels.count} labels`);
                }
            }));
}

// Every stop of the Tab key, until it leaves the page.
async function walkByTab(page) {
    const stops = [];
    for (;;) {
        await page.keyboard.press('Tab');
        const stop = await page.evaluate(() => {
            const at = document.activeElement;
            if (!at || at === document.body) return null;
            const all = [...document.querySelectorAll('a[href],summary,[tabindex="0"]')];
            const box = at.getBoundingClientRect();
            const style = getComputedStyle(at);
            return {
                index: all.indexOf(at),
                of: all.filter((element) => element.checkVisibility()).length,
                says: at.ariaLabel ?? at.textContent.trim().slice(0, 40),
                seen: box.width > 0 && box.right > 0 && box.bottom > 0 && box.top < innerHeight,
                ring: style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 2,
            };
        });
        if (!stop || stop.index <= (stops.at(-1)?.index ?? -1)) return stops;
        stops.push(stop);
    }
}

function checkKeyboard(file) {
    it('reaches everything by keyboard, in order, and shows where it is', () =>
        withPage(file(), {}, async (page) => {
            const stops = await walkByTab(page);
            assert.equal(stops.length, stops[0]?.of ?? 0);
            nothing(stops.filter((stop) => !stop.seen || !stop.ring || !stop.says));
        }));
    it('skips to the report and opens what is folded', () =>
        withPage(file(), {}, async (page) => {
            await page.keyboard.press('Tab');
            await page.keyboard.press('Enter');
            assert.equal(await page.evaluate(() => document.activeElement.id), 'main');
            const folded = page.locator('details:not([open]) > summary').first();
            if ((await folded.count()) === 0) return;
            await folded.focus();
            await page.keyboard.press('Enter');
            assert.ok(await page.evaluate(() => document.activeElement.parentElement.open));
        }));
}

function checkReader(file) {
    it('is in order for a screen reader', () =>
        withPage(file(), {}, async (page) => {
            nothing(await page.evaluate(look.poorStructure));
            const session = await page.context().newCDPSession(page);
            const { nodes } = await session.send('Accessibility.getFullAXTree');
            const images = nodes.filter(
                (node) => !node.ignored && ['image', 'img'].includes(node.role?.value),
            );
            assert.equal(images.length, await page.locator('figure svg[role=img]').count());
            for (const image of images) {
                assert.ok(image.name?.value.length > 5, 'an image has a name');
                assert.ok(image.description?.value.length > 20, `${image.name.value}: says what`);
            }
        }));
}

function checkPaper(file, sides, width) {
    it('prints on A4 with nothing cut', () =>
        withPage(file(), { media: 'print', width }, async (page) => {
            nothing(await page.evaluate(look.overflows));
            nothing(await page.evaluate(look.wideTables));
            nothing(await page.evaluate(look.brokenWords), 'words stay whole');
            const plain = await page.pdf({ preferCSSPageSize: true, printBackground: true });
            const count = pageCount(plain);
            assert.ok(count >= sides[0] && count <= sides[1], `${count} pages`);
            const pairs = await page.evaluate(markWholes);
            const pdf = await page.pdf({ preferCSSPageSize: true, printBackground: true });
            const places = placesByName(pdf);
            for (const { says, first, last } of pairs) {
                assert.notEqual(places.get(first), undefined, `${says} is found in the PDF`);
                assert.equal(places.get(first), places.get(last), `${says} is on one page`);
            }
        }));
}

// ---- The pages ----

for (const plan of PLANS) {
    const name = basename(plan, '.ini');
    const file = () => join(folder, `${name}.html`);
    describe(`report of ${name}`, () => {
        before(() => farend('report', plan, '--html', file()));
        checkScreen(file);
        checkContrast(file);
        checkKeyboard(file);
        checkReader(file);
        checkPaper(file, [4, 40], REPORT_WIDTH);
    });
}

// One side of A4, whatever the way: the plans' own, and runs on posts.
const SHEETS = [
    ...PLANS.map((plan) => ['report', plan, '--json']),
    ...PLANS.map((plan) => ['posts', plan, '--json']),
    ['posts', '--distance', '95m', '--post-length', '5m', '--cable', 'outdoor-data-messenger'],
    ['posts', '--distance', '900m', '--post-length', '7m', '--cable', 'outdoor-data-messenger'],
];

for (const words of SHEETS) {
    const name = `sheet-${words.slice(0, 3).map((word) => basename(word, '.ini')).join('-')}`;
    const file = () => join(folder, `${name}.html`);
    describe(name, () => {
        before(() => farend(...words, '--sheet', file()));
        checkScreen(file, [360]);
        checkPaper(file, [1, 1], SHEET_WIDTH);
    });
}

describe('hostile plan', () => {
    it('shows markup as text', () =>
        withPage(join(folder, 'markup.html'), {}, async (page) => {
            const text = await page.evaluate(() => document.body.innerText);
            for (const payload of ['<script>', '<img src=x onerror=', '</title>'])
                assert.ok(text.includes(payload), `${payload} is shown as it was written`);
            assert.equal(await page.evaluate(() => globalThis.reached), undefined);
        }));
});
