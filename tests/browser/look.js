// SPDX-License-Identifier: GPL-3.0-or-later
// What is read off a page; every function runs inside it and returns what is wrong.

export function unseenFigures() {
    const bad = [];
    for (const figure of document.querySelectorAll('figure')) {
        const name = figure.querySelector('figcaption')?.textContent ?? 'a figure';
        const svg = figure.querySelector('svg');
        const box = svg?.getBoundingClientRect();
        if (!svg) bad.push(`${name}: no drawing`);
        else if (!svg.checkVisibility() || box.width < 100 || box.height < 60)
            bad.push(`${name}: ${box.width} by ${box.height}`);
        else if (svg.querySelectorAll('path,text').length < 5) bad.push(`${name}: empty`);
    }
    return bad;
}

// What sticks out of the window, or of its own box; a region that scrolls may hold more.
export function overflows() {
    const bad = [];
    const root = document.documentElement;
    if (root.scrollWidth > root.clientWidth)
        bad.push(`the page: ${root.scrollWidth} of ${root.clientWidth}`);
    const says = (element) => `${element.localName} "${element.textContent.trim().slice(0, 40)}"`;
    for (const element of document.body.querySelectorAll('*')) {
        if (!element.checkVisibility() || element.closest('svg,.skip')) continue;
        const region = element.parentElement.closest('.scroll');
        const box = element.getBoundingClientRect();
        if (!region && (box.right > root.clientWidth + 0.5 || box.left < -0.5))
            bad.push(`${says(element)}: ${box.left} to ${box.right}`);
        const style = getComputedStyle(element);
        const cuts = style.overflowX === 'hidden' || style.overflowX === 'clip';
        if (cuts && element.scrollWidth > element.clientWidth + 1)
            bad.push(`${says(element)}: cut off`);
    }
    return bad;
}

// Tables that do not fit: on paper nothing can be moved sideways.
export function wideTables() {
    return [...document.querySelectorAll('.scroll')]
        .filter((region) => region.scrollWidth > region.clientWidth + 1)
        .map((region) => `${region.ariaLabel}: ${region.scrollWidth} of ${region.clientWidth}`);
}

// Words that a narrow cell breaks in the middle. What has no end may break anywhere.
export function brokenWords() {
    const MOST_LETTERS = 20;
    const bad = [];
    const texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    const range = document.createRange();
    while (texts.nextNode()) {
        const node = texts.currentNode;
        if (!node.parentElement.checkVisibility() || node.parentElement.closest('svg')) continue;
        for (const { 0: word, index } of node.data.matchAll(/[\p{L}\p{N}]+/gu)) {
            if (word.length > MOST_LETTERS) continue;
            range.setStart(node, index);
            range.setEnd(node, index + word.length);
            const lines = new Set([...range.getClientRects()].map((box) => Math.round(box.top)));
            if (lines.size > 1) bad.push(word);
        }
    }
    return bad;
}

// Labels of a figure that stand over each other or stick out of the drawing.
export function crowdedLabels() {
    const bad = [];
    const touch = (a, b) =>
        Math.min(a.right, b.right) - Math.max(a.left, b.left) > 2 &&
        Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top) > 4;
    for (const figure of document.querySelectorAll('figure')) {
        const frame = figure.querySelector('svg')?.getBoundingClientRect();
        const labels = [...figure.querySelectorAll('svg text')]
            .filter((label) => label.textContent.trim())
            .map((label) => ({ text: label.textContent, box: label.getBoundingClientRect() }));
        const name = figure.querySelector('figcaption')?.textContent;
        labels.forEach(({ text, box }, i) => {
            if (box.left < frame.left - 1 || box.right > frame.right + 1)
                bad.push(`${name}: "${text}" sticks out`);
            for (const other of labels.slice(i + 1))
                if (touch(box, other.box)) bad.push(`${name}: "${text}" on "${other.text}"`);
        });
    }
    return bad;
}

// Structure that a screen reader goes by.
export function poorStructure() {
    const bad = [];
    const all = (selector) => [...document.querySelectorAll(selector)];
    if (!document.documentElement.lang) bad.push('no language');
    if (!document.title.trim()) bad.push('no title');
    if (all('h1').length !== 1) bad.push(`${all('h1').length} main headings`);
    if (all('main').length !== 1) bad.push('no single main part');
    let level = 1;
    for (const heading of all('h2,h3,h4,h5,h6')) {
        const next = Number(heading.localName[1]);
        if (next > level + 1) bad.push(`heading skips a level: ${heading.textContent}`);
        level = next;
    }
    const ids = all('[id]').map((element) => element.id);
    const twice = ids.filter((id, i) => ids.indexOf(id) !== i);
    if (twice.length) bad.push(`the same id twice: ${twice.join(', ')}`);
    for (const link of all('a[href^="#"]'))
        if (!document.getElementById(link.hash.slice(1))) bad.push(`dead link ${link.hash}`);
    for (const table of all('table')) {
        const name = table.caption?.textContent.trim();
        if (!name) bad.push('a table without a caption');
        if (!table.querySelector('thead th[scope=col]') || !table.querySelector('tbody th[scope=row]'))
            bad.push(`table without heads: ${name}`);
        const wide = table.tHead.rows[0].cells.length;
        for (const row of table.tBodies[0].rows)
            if (row.cells.length !== wide) bad.push(`table with a short row: ${name}`);
    }
    return bad;
}

export function scripts() {
    const bad = [...document.querySelectorAll('script,iframe,object,embed,form,base')].map(
        (element) => element.localName,
    );
    for (const element of document.querySelectorAll('*'))
        for (const { name, value } of element.attributes)
            if (name.startsWith('on') || /^\s*javascript:/i.test(value))
                bad.push(`${element.localName} ${name}=${value}`);
    return bad;
}
