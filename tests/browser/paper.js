// SPDX-License-Identifier: GPL-3.0-or-later
// What a printed page looks like, read off the PDF: the browser writes page objects and named
// places uncompressed.

export function pageCount(pdf) {
    return (pdf.toString('latin1').match(/\/Type\s*\/Page\b(?!s)/g) ?? []).length;
}

// Page (from 0) of every named place.
export function placesByName(pdf) {
    const text = pdf.toString('latin1');
    const order = new Map();
    for (const kids of text.matchAll(/\/Kids\s*\[([^\]]*)\]/g))
        for (const kid of kids[1].matchAll(/(\d+) 0 R/g))
            if (isPage(text, kid[1])) order.set(kid[1], order.size);
    const places = new Map();
    for (const found of text.matchAll(/\/([\w-]+)\s*\[(\d+) 0 R\s*\/XYZ/g))
        places.set(found[1], order.get(found[2]));
    return places;
}

function isPage(text, number) {
    const start = text.search(new RegExp(`(?:^|[\\r\\n])${number} 0 obj`));
    return start >= 0 && /\/Type\s*\/Page\b(?!s)/.test(text.slice(start, start + 400));
}

// Runs inside a page. Marks where each whole thing begins and ends, and links to the marks: only
// a place that is linked to gets a name in the PDF. Returns the pairs that must share a page.
export function markWholes() {
    const pairs = [];
    const links = document.createElement('div');
    const mark = (name) => {
        const place = document.createElement('span');
        place.id = name;
        place.style.cssText = 'display:block;height:0';
        const link = document.createElement('a');
        link.href = `#${name}`;
        link.textContent = '.';
        links.append(link);
        return place;
    };
    const keep = (says, first, last) => {
        pairs.push({ says, first: first.id, last: last.id });
    };
    document.querySelectorAll('figure').forEach((figure, i) => {
        const first = mark(`whole-figure-${i}-a`);
        const last = mark(`whole-figure-${i}-b`);
        figure.prepend(first);
        figure.append(last);
        keep(`figure "${figure.querySelector('figcaption')?.textContent}"`, first, last);
    });
    document.querySelectorAll('h2,h3,caption').forEach((heading, i) => {
        const next =
            heading.localName === 'caption'
                ? heading.parentElement.querySelector('tbody th')
                : heading.nextElementSibling;
        if (!next) return;
        const first = mark(`whole-heading-${i}-a`);
        const last = mark(`whole-heading-${i}-b`);
        heading.append(first);
        next.prepend(last);
        keep(`heading "${heading.textContent}"`, first, last);
    });
    document.body.append(links);
    return pairs;
}
