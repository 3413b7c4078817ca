// SPDX-License-Identifier: GPL-3.0-or-later
// Contrast by WCAG 2.1: relative luminance and contrast ratio (definitions), 4.5 for text and
// 3 for large text (sec 1.4.3). Colours are [red, green, blue], 0 to 255.

function luminance(rgb) {
    const [r, g, b] = rgb.map((c) => {
        const share = c / 255;
        return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
    });
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}

export function contrast(a, b) {
    const [low, high] = [luminance(a), luminance(b)].sort((x, y) => x - y);
    return (high + 0.05) / (low + 0.05);
}

// ---- The words of a page ----

// Runs inside a page: text, colour, the ground behind it and whether it counts as large.
function readWords() {
    const parse = (text) => text.match(/[\d.]+/g).map(Number);
    const blend = ([r, g, b, alpha = 1], ground) =>
        [r, g, b].map((c, i) => c * alpha + ground[i] * (1 - alpha));
    const groundOf = (element) =>
        element
            ? blend(parse(getComputedStyle(element).backgroundColor), groundOf(element.parentElement))
            : [255, 255, 255];
    const words = [];
    const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    for (let node = walker.nextNode(); node; node = walker.nextNode()) {
        const element = node.parentElement;
        if (!node.data.trim() || element.closest('svg,style') || !element.checkVisibility())
            continue;
        const style = getComputedStyle(element);
        const ground = groundOf(element);
        const size = parseFloat(style.fontSize);
        words.push({
            text: node.data.trim().slice(0, 40),
            ink: blend(parse(style.color), ground),
            ground,
            large: size >= 24 || (size >= 18.66 && Number(style.fontWeight) >= 700),
        });
    }
    return words;
}

export async function weakWords(page) {
    const words = await page.evaluate(readWords);
    const weak = words
        .map(({ text, ink, ground, large }) => ({
            text,
            ratio: contrast(ink, ground),
            least: large ? 3 : 4.5,
        }))
        .filter(({ ratio, least }) => ratio < least)
        .map(({ text, ratio }) => `"${text}" ${ratio.toFixed(2)}`);
    return { count: words.length, weak };
}

// ---- The labels of a figure ----

// Runs inside a page: boxes and colours of the labels, which it then hides, so that a picture
// shows what stands behind them.
function takeLabels(figure) {
    const frame = figure.getBoundingClientRect();
    const labels = [];
    for (const label of figure.querySelectorAll('text')) {
        const box = label.getBoundingClientRect();
        if (!label.textContent.trim()) continue;
        labels.push({
            text: label.textContent.trim(),
            box: [box.x - frame.x, box.y - frame.y, box.width, box.height],
            ink: getComputedStyle(label).fill.match(/[\d.]+/g).map(Number).slice(0, 3),
        });
    }
    for (const label of figure.querySelectorAll('text')) label.style.visibility = 'hidden';
    return labels;
}

// Runs inside an empty page: how often each colour stands in each box of a picture.
async function countColours({ picture, boxes }) {
    const image = new Image();
    image.src = `data:image/png;base64,${picture}`;
    await image.decode();
    const canvas = new OffscreenCanvas(image.width, image.height);
    const context = canvas.getContext('2d', { willReadFrequently: true });
    context.drawImage(image, 0, 0);
    return boxes.map(([x, y, width, height]) => {
        const { data } = context.getImageData(x, y, Math.max(1, width), Math.max(1, height));
        const counts = new Map();
        for (let i = 0; i < data.length; i += 4) {
            const colour = (data[i] << 16) | (data[i + 1] << 8) | data[i + 2];
            counts.set(colour, (counts.get(colour) ?? 0) + 1);
        }
        return [...counts];
    });
}

// A line that crosses a label spoils a little of its ground, a dark patch all of it.
const LEAST_GOOD_SHARE = 0.85;

function goodShare(ink, colours) {
    let good = 0;
    let all = 0;
    for (const [colour, count] of colours) {
        const ground = [colour >> 16, (colour >> 8) & 255, colour & 255];
        all += count;
        good += contrast(ink, ground) >= 4.5 ? count : 0;
    }
    return good / all;
}

export async function weakLabels(page, figure, empty) {
    const labels = await figure.evaluate(takeLabels);
    const picture = (await figure.screenshot()).toString('base64');
    const boxes = labels.map(({ box }) => box.map(Math.round));
    const colours = await empty.evaluate(countColours, { picture, boxes });
    const weak = labels
        .map(({ text, ink }, i) => ({ text, share: goodShare(ink, colours[i]) }))
        .filter(({ share }) => share < LEAST_GOOD_SHARE)
        .map(({ text, share }) => `"${text}" on ${Math.round(100 * share)} % of its ground`);
    return { count: labels.length, weak };
}
