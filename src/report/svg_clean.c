/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From what gnuplot's SVG terminal writes to what may stand in a page. */
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

#include "farend/gnuplot.h"
#include "report/svg_palette.h"

enum { DEEPEST = 64, MOST_ATTRIBUTES = 32, ELEMENT_ROOM = 24 };

/* What draws. Everything else goes, with all that is inside: scripts, links, filters, titles.
 */
static const char *const ELEMENTS[] = {"svg",  "g",    "defs",     "path",    "circle",
                                       "rect", "line", "polyline", "polygon", "ellipse",
                                       "text", "use",  "tspan",    "pattern"};

/* Numbers, paths, lists of points: values that can name nothing outside. */
static const char *const ATTRIBUTES[] = {"d",
                                         "x",
                                         "y",
                                         "x1",
                                         "y1",
                                         "x2",
                                         "y2",
                                         "cx",
                                         "cy",
                                         "r",
                                         "rx",
                                         "ry",
                                         "dx",
                                         "dy",
                                         "width",
                                         "height",
                                         "points",
                                         "transform",
                                         "stroke-width",
                                         "stroke-dasharray",
                                         "opacity",
                                         "fill-opacity",
                                         "stroke-linecap",
                                         "font-size",
                                         "stroke-linejoin",
                                         "font-weight",
                                         "font-style",
                                         "text-anchor",
                                         "patternUnits",
                                         "stroke-opacity",
                                         "xml:space"};

typedef struct slice {
    const char *text;
    size_t length;
} slice;

typedef struct attribute {
    slice name;
    slice value;
} attribute;

typedef struct tag {
    slice name;
    attribute attributes[MOST_ATTRIBUTES];
    size_t count;
    bool closes; /* </name> */
    bool empty;  /* <name/> */
} tag;

typedef struct cleaner {
    const char *id;
    fe_strbuf *out;
    slice open[DEEPEST];
    size_t depth;
    size_t hidden_from; /* depth at which a dropped element was opened; 0: none is open */
    bool root_seen;
} cleaner;

static bool slice_is(slice part, const char *text)
{
    return part.length == strlen(text) && memcmp(part.text, text, part.length) == 0;
}

static bool slice_in(slice part, const char *const *list, size_t count)
{
    for (size_t i = 0; i < count; i++)
        if (slice_is(part, list[i]))
            return true;
    return false;
}

static bool is_blank(char character)
{
    return character == ' ' || (character >= '\t' && character <= '\r');
}

static const char *skip_blanks(const char *at)
{
    while (is_blank(*at))
        at++;
    return at;
}

static slice scan_name(const char *at)
{
    return (slice){at, strcspn(at, " \t\r\n\v\f/>=<\"'")};
}

/* ---- Reading ---- */

/* One name="value"; the place after it, or null where it is none. */
static const char *scan_attribute(const char *at, attribute *result)
{
    result->name = scan_name(at);
    at = skip_blanks(at + result->name.length);
    if (result->name.length == 0 || *at != '=')
        return NULL;
    at = skip_blanks(at + 1);
    if (*at != '"' && *at != '\'')
        return NULL;
    const char *end = strchr(at + 1, *at);
    if (!end)
        return NULL;
    result->value = (slice){at + 1, (size_t)(end - at - 1)};
    return memchr(at, '<', (size_t)(end - at)) ? NULL : end + 1;
}

/* A tag after its '<'; the place after its '>', or null where it is not well formed. */
static const char *scan_tag(const char *at, tag *result)
{
    *result = (tag){.closes = *at == '/'};
    at += result->closes;
    result->name = scan_name(at);
    at = skip_blanks(at + result->name.length);
    while (*at && *at != '>' && *at != '/') {
        if (result->count == MOST_ATTRIBUTES)
            return NULL;
        at = scan_attribute(at, &result->attributes[result->count++]);
        if (!at)
            return NULL;
        at = skip_blanks(at);
    }
    result->empty = *at == '/';
    at += result->empty;
    return *at == '>' && result->name.length > 0 ? at + 1 : NULL;
}

/* ---- Colours ---- */

static bool parse_hex(slice value, unsigned *rgb)
{
    if (value.length != 7 || value.text[0] != '#')
        return false;
    char digits[8] = {0};
    memcpy(digits, value.text + 1, 6);
    if (strspn(digits, "0123456789abcdefABCDEF") != 6)
        return false;
    *rgb = (unsigned)strtoul(digits, NULL, 16);
    return true;
}

/* "rgb( 27,  79, 114)" as gnuplot writes it. */
static bool parse_rgb(slice value, unsigned *rgb)
{
    char copy[32] = {0};
    if (value.length >= sizeof copy || value.length < 5 || memcmp(value.text, "rgb(", 4) != 0)
        return false;
    memcpy(copy, value.text, value.length);
    unsigned long part[3] = {0};
    char *at = copy + 4;
    for (int i = 0; i < 3; i++) {
        char *end = NULL;
        part[i] = strtoul(at, &end, 10);
        if (end == at || part[i] > 255 || *end != (i < 2 ? ',' : ')'))
            return false;
        at = end + 1;
    }
    *rgb = (unsigned)(part[0] << 16 | part[1] << 8 | part[2]);
    return *at == 0;
}

/* gnuplot has its own black and white for what a script leaves alone. */
static bool parse_colour(slice value, unsigned *rgb)
{
    if (slice_is(value, "black"))
        *rgb = PALETTE[0].light;
    else if (slice_is(value, "white"))
        *rgb = PALETTE[3].light;
    else
        return parse_hex(value, rgb) || parse_rgb(value, rgb);
    return true;
}

static const palette_row *palette_of(unsigned rgb)
{
    for (size_t i = 0; i < PALETTE_ROWS; i++)
        if (PALETTE[i].light == rgb)
            return &PALETTE[i];
    return NULL;
}

static bool is_paint(slice name)
{
    return slice_is(name, "fill") || slice_is(name, "stroke") || slice_is(name, "color");
}

/* "fe-fill-ink": what the dark scheme takes hold of. */
static void append_class(fe_strbuf *classes, slice name, const palette_row *row)
{
    fe_strbuf_format(classes, "%sfe-%.*s-%s", classes->length ? " " : "", (int)name.length,
                     name.text, row->name + 2);
}

/* ---- Writing ---- */

static void write_attribute(fe_strbuf *out, slice name, slice value)
{
    fe_strbuf_format(out, " %.*s=\"", (int)name.length, name.text);
    for (size_t i = 0; i < value.length; i++)
        if (value.text[i] == '"')
            fe_strbuf_append(out, "&quot;");
        else
            fe_strbuf_append_char(out, value.text[i]);
    fe_strbuf_append(out, "\"");
}

static bool is_plain_id(slice id)
{
    return id.length > 0 &&
           strspn(id.text, "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ"
                           "0123456789_-") >= id.length;
}

/* References stay inside the figure: "#name" and "url(#name)" get its prefix, others go. */
static void write_reference(const cleaner *self, slice name, slice value)
{
    const bool url = value.length > 6 && memcmp(value.text, "url(#", 5) == 0 &&
                     value.text[value.length - 1] == ')';
    const bool hash = value.length > 1 && value.text[0] == '#';
    if (!url && !hash)
        return;
    const slice target = url ? (slice){value.text + 5, value.length - 6}
                             : (slice){value.text + 1, value.length - 1};
    if (!is_plain_id(target))
        return;
    fe_strbuf_format(self->out, " %.*s=\"%s#%s-%.*s%s\"", (int)name.length, name.text,
                     url ? "url(" : "", self->id, (int)target.length, target.text,
                     url ? ")" : "");
}

static void write_paint(const cleaner *self, const attribute *paint, fe_strbuf *classes)
{
    unsigned rgb = 0;
    if (parse_colour(paint->value, &rgb)) {
        fe_strbuf_format(self->out, " %.*s=\"#%06x\"", (int)paint->name.length,
                         paint->name.text, rgb);
        const palette_row *row = palette_of(rgb);
        if (row)
            append_class(classes, paint->name, row);
    } else if (slice_is(paint->value, "none") || slice_is(paint->value, "currentColor")) {
        write_attribute(self->out, paint->name, paint->value);
    } else {
        write_reference(self, paint->name, paint->value);
    }
}

static void write_attributes(const cleaner *self, const tag *element)
{
    fe_strbuf classes = FE_STRBUF_INIT;
    for (size_t i = 0; i < element->count; i++) {
        const attribute *each = &element->attributes[i];
        if (is_paint(each->name))
            write_paint(self, each, &classes);
        else if (slice_is(each->name, "id") && is_plain_id(each->value))
            fe_strbuf_format(self->out, " id=\"%s-%.*s\"", self->id, (int)each->value.length,
                             each->value.text);
        else if (slice_is(each->name, "xlink:href") || slice_is(each->name, "href"))
            write_reference(self, (slice){"href", 4}, each->value);
        else if (slice_in(each->name, ATTRIBUTES, sizeof ATTRIBUTES / sizeof *ATTRIBUTES))
            write_attribute(self->out, each->name, each->value);
    }
    if (classes.length > 0)
        fe_strbuf_format(self->out, " class=\"%s\"", fe_strbuf_text(&classes));
    self->out->failed = self->out->failed || classes.failed;
    fe_strbuf_free(&classes);
}

static void write_dark_scheme(fe_strbuf *out)
{
    fe_strbuf_append(out, "<style>@media screen and (prefers-color-scheme:dark){");
    for (size_t i = 0; i < PALETTE_ROWS; i++) {
        const char *name = PALETTE[i].name + 2;
        const unsigned dark = PALETTE[i].dark;
        fe_strbuf_format(out,
                         ".fe-fill-%s{fill:#%06x}.fe-stroke-%s{stroke:#%06x}"
                         ".fe-color-%s{color:#%06x}",
                         name, dark, name, dark, name, dark);
    }
    fe_strbuf_append(out, "}</style>\n");
}

/* The drawing's size is only a shape: it fills the place it is given. */
static bool write_root(const cleaner *self, const tag *element)
{
    for (size_t i = 0; i < element->count; i++) {
        const slice value = element->attributes[i].value;
        if (!slice_is(element->attributes[i].name, "viewBox") ||
            strspn(value.text, "0123456789. ") < value.length)
            continue;
        fe_strbuf_format(self->out,
                         "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"%.*s\" "
                         "font-family=\"system-ui, sans-serif\">\n",
                         (int)value.length, value.text);
        write_dark_scheme(self->out);
        return true;
    }
    return false;
}

/* ---- Walking ---- */

static bool open_element(cleaner *self, const tag *element)
{
    const bool root = self->depth == 0;
    if (self->depth == DEEPEST ||
        (root && (self->root_seen || !slice_is(element->name, "svg"))))
        return false;
    const bool known = slice_in(element->name, ELEMENTS, sizeof ELEMENTS / sizeof *ELEMENTS) &&
                       (root || !slice_is(element->name, "svg"));
    if (!element->empty)
        self->open[self->depth++] = element->name;
    if (root) {
        self->root_seen = true;
        return !element->empty && write_root(self, element);
    }
    if (!known && !element->empty && !self->hidden_from)
        self->hidden_from = self->depth;
    if (!known || self->hidden_from)
        return true;
    fe_strbuf_format(self->out, "<%.*s", (int)element->name.length, element->name.text);
    write_attributes(self, element);
    fe_strbuf_append(self->out, element->empty ? "/>" : ">");
    return true;
}

static bool close_element(cleaner *self, const tag *element)
{
    if (self->depth == 0)
        return false;
    const slice open = self->open[self->depth - 1];
    if (open.length != element->name.length ||
        memcmp(open.text, element->name.text, open.length) != 0)
        return false;
    if (!self->hidden_from)
        fe_strbuf_format(self->out, "</%.*s>", (int)open.length, open.text);
    if (self->hidden_from == self->depth)
        self->hidden_from = 0;
    self->depth--;
    return true;
}

/*
 * Text only inside what draws text; between elements line ends are kept. gnuplot 5.4 leaves a
 * lone "Z" there where a key's box is drawn outside the canvas, so other text is dropped;
 * outside the root it means that this is no SVG.
 */
static bool copy_text(const cleaner *self, const char *text, size_t length)
{
    if (self->depth == 0)
        return strspn(text, " \t\r\n\v\f") >= length;
    const slice inside = self->open[self->depth - 1];
    if (self->hidden_from)
        return true;
    if (slice_is(inside, "tspan") || slice_is(inside, "text"))
        fe_strbuf_append_bytes(self->out, text, length);
    else if (memchr(text, '\n', length))
        fe_strbuf_append(self->out, "\n");
    return true;
}

/* Comments, the XML line, a document type: nothing of them is wanted. */
static const char *skip_aside(const char *at)
{
    const char *end = NULL;
    if (strncmp(at, "<!--", 4) == 0) {
        end = strstr(at + 4, "-->");
        return end ? end + 3 : NULL;
    }
    end = strchr(at, '>');
    return end ? end + 1 : NULL;
}

static bool clean(cleaner *self, const char *at)
{
    while (*at) {
        const size_t length = strcspn(at, "<");
        if (length > 0 && !copy_text(self, at, length))
            return false;
        at += length;
        if (*at == 0)
            break;
        if (at[1] == '!' || at[1] == '?') {
            at = skip_aside(at);
        } else {
            tag element;
            at = scan_tag(at + 1, &element);
            if (at && !(element.closes ? close_element(self, &element)
                                       : open_element(self, &element)))
                return false;
        }
        if (!at)
            return false;
    }
    return self->root_seen && self->depth == 0;
}

fe_status fe_gnuplot_clean_svg(const char *raw, const char *id, fe_strbuf *out)
{
    fe_strbuf cleaned = FE_STRBUF_INIT;
    cleaner self = {.id = id, .out = &cleaned};
    fe_status status = clean(&self, raw) ? fe_strbuf_status(&cleaned) : FE_E_INPUT;
    if (status == FE_OK) {
        fe_strbuf_append_bytes(out, cleaned.text, cleaned.length);
        status = fe_strbuf_status(out);
    }
    fe_strbuf_free(&cleaned);
    return status;
}
