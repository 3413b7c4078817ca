/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef REPORT_PAGE_STYLE_H
#define REPORT_PAGE_STYLE_H

/*
 * Look of the page. Ink on paper with one quiet accent; what matters is told by words, weight
 * and shape. Every text colour keeps 4.5:1 against what it stands on (WCAG 2.1 sec 1.4.3), in
 * both schemes; paper always gets the light one.
 */
static const char PAGE_STYLE[] =
    ":root{color-scheme:light dark;--paper:#fbfaf6;--card:#f2f0e8;--ink:#20261f;--soft:#565f57;"
    "--rule:#cdc9bb;--accent:#1b5a68}\n"
    "@media screen and (prefers-color-scheme:dark){:root{--paper:#161a18;--card:#1f2522;"
    "--ink:#e6e4da;--soft:#a8b0a8;--rule:#3d4641;--accent:#8fc9d3}}\n"
    "*{box-sizing:border-box}\n"
    "html{-webkit-text-size-adjust:100%;text-size-adjust:100%}\n"
    "body{margin:0 auto;padding:1.5rem 1rem 4rem;max-width:46rem;background:var(--paper);"
    "color:var(--ink);font:1.0625rem/1.55 system-ui,sans-serif;overflow-wrap:break-word}\n"
    "h1,h2,h3{font-family:ui-serif,serif;line-height:1.2;text-wrap:balance}\n"
    "h1{font-size:1.9rem;font-weight:600;margin:0 0 1rem}\n"
    "h2{font-size:1.4rem;font-weight:600;margin:3rem 0 .8rem;padding-top:.7rem;"
    "border-top:1px solid var(--rule)}\n"
    "h3{font-size:1.1rem;font-weight:600;margin:2rem 0 .4rem}\n"
    "p{margin:0 0 .9rem;max-width:40rem}\n"
    "a{color:var(--accent)}\n"
    ":focus-visible{outline:3px solid var(--accent);outline-offset:2px}\n"
    "main:focus{outline:none}\n"
    ".skip{position:absolute;left:-999rem;background:var(--paper);padding:.5rem 1rem}\n"
    ".skip:focus{left:1rem;top:.5rem}\n"
    "nav{margin:0 0 1rem}\n"
    "nav ul{list-style:none;display:flex;flex-wrap:wrap;gap:.2rem 1.2rem;padding:0;"
    "margin:.3rem 0 0;max-width:none}\n"
    "nav a{display:inline-block;padding:.25rem 0}\n"
    ".verdict{display:flex;flex-wrap:wrap;gap:0 .8rem;margin:0 0 1rem;padding:.8rem 1rem;"
    "max-width:none;background:var(--card);border-left:.4rem solid var(--ink)}\n"
    ".verdict .says{flex:1 1 14rem}\n"
    ".verdict.tight{border-left-style:double}\n"
    ".verdict.fails{border-left-style:dashed;border-left-width:.2rem}\n"
    ".verdict.unknown{border-left-style:dotted;border-left-width:.2rem}\n"
    ".mark{font-weight:650;white-space:nowrap}\n"
    ".mark svg{width:1em;height:1em;vertical-align:-.12em}\n"
    ".mark .full{fill:currentColor}\n"
    ".mark .cut{fill:none;stroke:var(--paper);stroke-width:2}\n"
    ".mark .line{fill:none;stroke:currentColor;stroke-width:1.7}\n"
    ".mark .dots{stroke-dasharray:2 2.2}\n"
    ".caution{padding:.7rem 1rem;border:2px solid var(--ink);border-radius:.2rem}\n"
    ".source{font-size:.9rem;color:var(--soft)}\n"
    "ul,ol{padding-left:1.4rem;margin:0 0 1rem;max-width:40rem}\n"
    "li{margin:.25rem 0}\n"
    "dl{margin:0 0 1rem}\n"
    "dl div{display:grid;grid-template-columns:minmax(8rem,14rem) 1fr;gap:0 1rem;"
    "padding:.3rem 0;border-bottom:1px solid var(--rule)}\n"
    "dt{color:var(--soft)}\n"
    "dd{margin:0}\n"
    ".scroll{overflow-x:auto;margin:0 0 1.4rem}\n"
    "table{border-collapse:collapse;font-size:.97rem;line-height:1.4;min-width:100%}\n"
    "caption{text-align:left;font-weight:600;padding:0 0 .4rem}\n"
    "th,td{text-align:left;vertical-align:top;padding:.4rem .9rem .4rem 0;"
    "border-bottom:1px solid var(--rule)}\n"
    "th:last-child,td:last-child{padding-right:0}\n"
    "thead th{font-weight:400;color:var(--soft);vertical-align:bottom;"
    "border-bottom:2px solid var(--ink)}\n"
    "tbody th{font-weight:600}\n"
    "td,dd,p{font-variant-numeric:tabular-nums lining-nums}\n"
    "th.number,td.number{text-align:right;white-space:nowrap}\n"
    "figure{margin:1.5rem 0 2rem;max-width:32rem}\n"
    "figcaption{font-weight:600;margin:0 0 .4rem}\n"
    "figure>svg{display:block;width:100%;height:auto}\n"
    "details{margin-top:.4rem;font-size:.95rem}\n"
    "summary{color:var(--accent);cursor:pointer;padding:.25rem 0}\n"
    ".missing{color:var(--soft);border:1px dashed var(--soft);padding:.8rem 1rem}\n"
    "@media (max-width:30rem){dl div{grid-template-columns:1fr}h1{font-size:1.6rem}"
    ".stack,.stack caption,.stack tbody{display:block}.stack thead,.stack td:empty{display:none}"
    ".stack tr{display:flex;flex-wrap:wrap;gap:0 1.1rem;padding:.4rem 0;"
    "border-bottom:1px solid var(--rule)}"
    ".stack th,.stack td{border:0;padding:0;text-align:left}.stack th{flex:1 0 100%}"
    ".stack td::before{content:attr(data-name) \" \";color:var(--soft)}"
    ".stack td.number{white-space:normal}"
    "figure>svg{margin:0 -.7rem;width:calc(100% + 1.4rem)}}\n";

/* The page on paper. */
static const char PAPER_STYLE[] =
    "@page{size:A4;margin:17mm 17mm 19mm}\n"
    "@media "
    "print{html{font-size:12px}body{max-width:none;padding:0;font-size:10pt;line-height:1.45;"
    "background:none}"
    "nav,.skip,details:not([open]){display:none}"
    "h2{margin-top:1.6rem}h1,h2,h3,caption,figcaption{break-after:avoid}"
    "figure,tr,li,.verdict,.caution,dl div,.scroll.short{break-inside:avoid}"
    /* A page that begins or ends a table holds some of its rows, not one. */
    "thead,tbody tr:nth-child(-n+3),tbody tr:nth-last-child(-n+5){break-before:avoid}"
    /* One column for text and figures; the drawing grows, its letters stay those of a text. */
    "p,ul,ol,.caution{max-width:142mm}"
    "figure{max-width:142mm;margin:1rem 0}figure>svg{width:auto;max-width:100%;max-height:"
    "112mm}figure>svg text{font-size:12px}"
    ".scroll{overflow:visible}thead{display:table-header-group}"
    "table{font-size:9pt}p{orphans:3;widows:3}}\n";

/* The foot of a printed page: its number, then the title, whose content follows this. */
#define FOOT_LOOK                                                                              \
    "font:8pt system-ui,sans-serif;color:#565f57;vertical-align:top;padding-top:4mm;"
#define PAPER_FOOT_STYLE                                                                       \
    "@page{@bottom-right{" FOOT_LOOK                                                           \
    "content:\"page \" counter(page) \" of \" counter(pages)}@bottom-left{" FOOT_LOOK

/*
 * One side of A4, on top of the page's own: two columns under the sketch, boxes to write in. All
 * lengths go by the size of the letters, which is as large as what is said leaves room for.
 */
static const char SHEET_STYLE[] =
    ".sheet{max-width:60rem;font-size:1rem;line-height:1.3}\n"
    ".sheet h1{font-size:1.5em;margin:0 0 .3em}\n"
    ".sheet h2{font-size:1.15em;margin:.6em 0 .2em;padding:0;border:0}\n"
    ".sheet p{margin:0 0 .4em;max-width:none}\n"
    ".sheet ul{margin:0 0 .4em;padding-left:1.4em;max-width:none}\n"
    ".sheet li{margin:.1em 0}\n"
    ".sheet dl{margin:0 0 .5em}\n"
    ".sheet dl div{grid-template-columns:8.5em 1fr;padding:.15em 0}\n"
    ".sheet .verdict{padding:.3em .6em;margin:0 0 .4em}\n"
    ".sheet figure{margin:0 0 .4em;max-width:none}\n"
    ".sheet figcaption{font-size:.9em;margin:0}\n"
    ".sheet .scroll{margin:0 0 .6em}\n"
    ".sheet table{font-size:.94em;line-height:1.25}\n"
    ".sheet th,.sheet td{padding:.15em .5em .15em 0}\n"
    ".sheet th.number,.sheet td.number{white-space:normal}\n"
    ".sheet td:empty,.sheet dd:empty{display:block;border:1px solid var(--ink);"
    "min-width:3.5em;height:2em}\n"
    ".sheet td:empty{display:table-cell}\n"
    "@media screen and (min-width:60rem){.sheet main{columns:2;column-gap:2em}}\n"
    "@media screen and (max-width:30rem){.sheet td:empty{display:flex;gap:.5em;"
    "flex:1 0 100%;border:0}.sheet td:empty::after{content:\"\";flex:1;"
    "border:1px solid var(--ink)}}\n"
    ".sheet figure,.sheet .verdict,.sheet .verdict+p{column-span:all}\n"
    "@media print{@page{size:A4;margin:9mm 11mm}"
    ".sheet{font-size:10.2pt;padding:0}.sheet main{columns:2;column-gap:6mm}"
    ".sheet figure{max-width:none}.sheet figure>svg{max-height:none}"
    ".sheet figure>svg text{font-size:13px}.sheet p,.sheet ul{max-width:none}"
    ".sheet .scroll{break-inside:avoid}.sheet li,.sheet p{orphans:2;widows:2}"
    ".sheet.close{font-size:9.3pt}.sheet.closer{font-size:8pt}.sheet.dense{font-size:7.5pt}"
    ".sheet.closest{font-size:6.8pt}}\n";

#endif
