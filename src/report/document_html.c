/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A document as one HTML file: no scripts, nothing fetched, light and dark, screen and paper.
 */
#include <ctype.h>
#include <string.h>

#include "farend/lines.h"
#include "report/document_model.h"
#include "report/page_style.h"

typedef struct html_writer {
    const fe_document *doc;
    fe_units units;
    fe_strbuf *out;
} html_writer;

/* Characters that mean something in XML. */
static void append_escaped(const char *text, size_t length, fe_strbuf *out)
{
    for (size_t i = 0; i < length; i++) {
        switch (text[i]) {
        case '&':
            fe_strbuf_append(out, "&amp;");
            break;
        case '<':
            fe_strbuf_append(out, "&lt;");
            break;
        case '>':
            fe_strbuf_append(out, "&gt;");
            break;
        case '"':
            fe_strbuf_append(out, "&quot;");
            break;
        case '\'':
            fe_strbuf_append(out, "&#39;");
            break;
        default:
            fe_strbuf_append_char(out, text[i]);
        }
    }
}

/* ---- Inline ---- */

/* Told apart by shape: full disc with a tick, half disc, ring with a cross, dotted ring. */
static const struct {
    const char *class_name;
    const char *drawing;
} MARKS[FE_MARKS] = {
    [FE_MARK_HOLDS] = {"holds", "<circle cx=\"8\" cy=\"8\" r=\"7\" class=\"full\"/>"
                                "<path d=\"M4.5 8.4l2.4 2.5 4.7-5.3\" class=\"cut\"/>"},
    [FE_MARK_TIGHT] = {"tight", "<circle cx=\"8\" cy=\"8\" r=\"6.2\" class=\"line\"/>"
                                "<path d=\"M8 1.8a6.2 6.2 0 0 0 0 12.4z\" class=\"full\"/>"},
    [FE_MARK_FAILS] = {"fails", "<circle cx=\"8\" cy=\"8\" r=\"6.2\" class=\"line\"/>"
                                "<path d=\"M5.4 5.4l5.2 5.2m0-5.2l-5.2 5.2\" class=\"line\"/>"},
    [FE_MARK_UNKNOWN] = {"unknown", "<circle cx=\"8\" cy=\"8\" r=\"6.2\" class=\"line dots\"/>"
                                    "<path d=\"M5.5 8h5\" class=\"line\"/>"},
};

static void write_mark(const html_writer *writer, fe_mark mark)
{
    fe_strbuf_format(writer->out,
                     "<span class=\"mark\"><svg viewBox=\"0 0 16 16\" aria-hidden=\"true\">%s"
                     "</svg> %s</span>",
                     MARKS[mark].drawing, fe_mark_word(mark));
}

/*
 * A word longer than any of ours may break, else it would push a table off the paper; at a
 * hyphen any word may.
 */
enum { LONGEST_WHOLE_WORD = 20, BROKEN_AFTER = 10 };

static void write_words(const html_writer *writer, const char *text, size_t length)
{
    size_t at = 0;
    while (at < length) {
        size_t end = at;
        while (end < length && text[end] != ' ' && text[end] != '-')
            end++;
        const bool is_long = end - at > LONGEST_WHOLE_WORD;
        while (is_long && end - at > BROKEN_AFTER) {
            size_t part = BROKEN_AFTER;
            while (at + part < end && ((unsigned char)text[at + part] & 0xc0) == 0x80)
                part++;
            append_escaped(text + at, part, writer->out);
            fe_strbuf_append(writer->out, "<wbr>");
            at += part;
        }
        end += end < length;
        append_escaped(text + at, end - at, writer->out);
        at = end;
    }
}

static void write_text(const html_writer *writer, const char *text, size_t length)
{
    fe_strbuf own = FE_STRBUF_INIT;
    fe_strbuf set = FE_STRBUF_INIT;
    fe_strbuf_append_bytes(&own, text, length);
    fe_lines_set_units(fe_strbuf_text(&own), &set);
    write_words(writer, fe_strbuf_text(&set), set.failed ? 0 : set.length);
    writer->out->failed = writer->out->failed || own.failed || set.failed;
    fe_strbuf_free(&own);
    fe_strbuf_free(&set);
}

static void write_inline(const html_writer *writer, const char *text)
{
    document_piece piece;
    while (text && document_next_piece(writer->doc, &text, &piece)) {
        if (!piece.value) {
            write_text(writer, piece.text, piece.length);
        } else if (piece.value->kind == INLINE_MARK) {
            write_mark(writer, piece.value->mark);
        } else if (piece.value->kind == INLINE_STRONG) {
            fe_strbuf_append(writer->out, "<strong>");
            write_inline(writer, piece.value->text);
            fe_strbuf_append(writer->out, "</strong>");
        } else {
            document_print_amount(piece.value, writer->units, writer->out);
        }
    }
}

/* Text for an attribute or a <title>: no markup inside. */
static void write_plain(const html_writer *writer, const char *text)
{
    fe_strbuf plain = FE_STRBUF_INIT;
    document_plain(writer->doc, text, writer->units, &plain);
    append_escaped(fe_strbuf_text(&plain), plain.failed ? 0 : plain.length, writer->out);
    writer->out->failed = writer->out->failed || plain.failed;
    fe_strbuf_free(&plain);
}

static void write_element(const html_writer *writer, const char *open, const char *text,
                          const char *close)
{
    fe_strbuf_append(writer->out, open);
    write_inline(writer, text);
    fe_strbuf_append(writer->out, close);
    fe_strbuf_append_char(writer->out, '\n');
}

/* ---- Blocks ---- */

static void write_heading(const html_writer *writer, size_t index)
{
    const document_block *block = &writer->doc->blocks[index];
    fe_strbuf_format(writer->out, "<h%d id=\"part-%zu\">", block->level, index);
    write_inline(writer, block->text);
    fe_strbuf_format(writer->out, "</h%d>\n", block->level);
}

static void write_verdict(const html_writer *writer, const document_block *block)
{
    fe_strbuf_format(writer->out, "<p class=\"verdict %s\">", MARKS[block->mark].class_name);
    write_mark(writer, block->mark);
    fe_strbuf_append(writer->out, " <span class=\"says\">");
    write_inline(writer, block->text);
    fe_strbuf_append(writer->out, "</span></p>\n");
}

static void write_head_row(const html_writer *writer, const document_table *table)
{
    fe_strbuf_append(writer->out, "<thead><tr>");
    for (size_t i = 0; i < table->column_count; i++) {
        fe_strbuf_format(writer->out, "<th scope=\"col\"%s>",
                         table->columns[i].right ? " class=\"number\"" : "");
        write_inline(writer, table->columns[i].name);
        fe_strbuf_append(writer->out, "</th>");
    }
    fe_strbuf_append(writer->out, "</tr></thead>\n");
}

/*
 * A table of more columns than a phone is wide gives each row a block there, each cell with the
 * name of its column before it; the roles say what it still is.
 */
enum { COLUMNS_ON_A_PHONE = 2 };

static bool is_stacked(const document_table *table)
{
    return table->column_count > COLUMNS_ON_A_PHONE;
}

static void open_cell(const html_writer *writer, const document_table *table, size_t column)
{
    const char *number = table->columns[column].right ? " class=\"number\"" : "";
    const bool stacked = is_stacked(table);
    if (column == 0) {
        fe_strbuf_format(writer->out, "<th scope=\"row\"%s%s>",
                         stacked ? " role=\"rowheader\"" : "", number);
        return;
    }
    fe_strbuf_format(writer->out, "<td%s", number);
    if (stacked) {
        fe_strbuf_append(writer->out, " role=\"cell\" data-name=\"");
        write_plain(writer, table->columns[column].name);
        fe_strbuf_append(writer->out, "\"");
    }
    fe_strbuf_append(writer->out, ">");
}

static void write_row(const html_writer *writer, const document_table *table, size_t row)
{
    fe_strbuf_append(writer->out, is_stacked(table) ? "<tr role=\"row\">" : "<tr>");
    for (size_t i = 0; i < table->column_count; i++) {
        open_cell(writer, table, i);
        write_inline(writer, table->cells[row * table->column_count + i]);
        fe_strbuf_append(writer->out, i == 0 ? "</th>" : "</td>");
    }
    fe_strbuf_append(writer->out, "</tr>\n");
}

/* Rows of a table that stays whole on paper. */
enum { SHORT_TABLE = 8 };

/* Should a table still be too wide, it scrolls inside a region that the keyboard can reach. */
static void write_table(const html_writer *writer, const document_block *block)
{
    const document_table *table = &block->table;
    fe_strbuf_format(writer->out,
                     "<div class=\"scroll%s\" role=\"region\" tabindex=\"0\" aria-label=\"",
                     table->row_count <= SHORT_TABLE ? " short" : "");
    write_plain(writer, block->text[0] ? block->text : "Table");
    fe_strbuf_append(writer->out, is_stacked(table)
                                      ? "\"><table class=\"stack\" role=\"table\">\n"
                                      : "\"><table>\n");
    if (block->text[0])
        write_element(writer, "<caption>", block->text, "</caption>");
    write_head_row(writer, table);
    fe_strbuf_append(writer->out,
                     is_stacked(table) ? "<tbody role=\"rowgroup\">\n" : "<tbody>\n");
    for (size_t row = 0; row < table->row_count; row++)
        write_row(writer, table, row);
    fe_strbuf_append(writer->out, "</tbody></table></div>\n");
}

/* Puts role, title and description where gnuplot's own opening tag stands. */
void document_write_svg(const fe_document *doc, const document_block *figure, fe_units units,
                        fe_strbuf *out)
{
    const html_writer writer = {doc, units, out};
    const char *rest = figure->svg;
    const char *end = strncmp(rest, "<svg", 4) == 0 ? strchr(rest, '>') : NULL;
    if (!end) {
        fe_strbuf_append(out, rest);
        return;
    }
    fe_strbuf_format(out,
                     "<svg role=\"img\" aria-labelledby=\"fig-%s-title\""
                     " aria-describedby=\"fig-%s-says\"",
                     figure->id, figure->id);
    fe_strbuf_append_bytes(out, rest + 4, (size_t)(end + 1 - (rest + 4)));
    fe_strbuf_format(out, "\n<title id=\"fig-%s-title\">", figure->id);
    write_plain(&writer, figure->name);
    fe_strbuf_format(out, "</title>\n<desc id=\"fig-%s-says\">", figure->id);
    write_plain(&writer, figure->text);
    fe_strbuf_append(out, "</desc>");
    fe_strbuf_append(out, end + 1);
}

static void write_figure(const html_writer *writer, const document_block *block)
{
    fe_strbuf_format(writer->out, "<figure id=\"fig-%s\">\n", block->id);
    write_element(writer, "<figcaption>", block->name, "</figcaption>");
    if (block->svg) {
        document_write_svg(writer->doc, block, writer->units, writer->out);
        fe_strbuf_append_char(writer->out, '\n');
    } else {
        write_element(writer, "<p class=\"missing\">This figure is missing: ", block->reason,
                      ".</p>");
    }
    if (block->text[0]) {
        fe_strbuf_format(writer->out, "<details%s>", block->svg ? "" : " open");
        write_element(writer, "<summary>The figure in words</summary><p>", block->text,
                      "</p></details>");
    }
    fe_strbuf_append(writer->out, "</figure>\n");
}

static void write_block(const html_writer *writer, size_t index)
{
    const document_block *block = &writer->doc->blocks[index];
    switch (block->kind) {
    case BLOCK_HEADING:
        write_heading(writer, index);
        break;
    case BLOCK_PARAGRAPH:
        write_element(writer, "<p>", block->text, "</p>");
        break;
    case BLOCK_PAIR:
        write_element(writer, "<div><dt>", block->name, "</dt>");
        write_element(writer, "<dd>", block->text, "</dd></div>");
        break;
    case BLOCK_ITEM:
    case BLOCK_STEP:
        write_element(writer, "<li>", block->text, "</li>");
        break;
    case BLOCK_VERDICT:
        write_verdict(writer, block);
        break;
    case BLOCK_CAUTION:
        write_element(writer, "<p class=\"caution\"><strong>Caution.</strong> ", block->text,
                      "</p>");
        break;
    case BLOCK_SOURCE:
        write_element(writer, "<p class=\"source\">Source: ", block->text, "</p>");
        break;
    case BLOCK_TABLE:
        write_table(writer, block);
        break;
    case BLOCK_FIGURE:
        write_figure(writer, block);
        break;
    }
}

/* The list element that a run of blocks of a kind stands in; null: none. */
static const char *list_of(block_kind kind)
{
    switch (kind) {
    case BLOCK_PAIR:
        return "dl";
    case BLOCK_ITEM:
        return "ul";
    case BLOCK_STEP:
        return "ol";
    default:
        return NULL;
    }
}

static void write_blocks(const html_writer *writer)
{
    const char *open = NULL;
    for (size_t i = 0; i < writer->doc->block_count; i++) {
        if (!document_is_shown(&writer->doc->blocks[i]))
            continue;
        const char *wanted = list_of(writer->doc->blocks[i].kind);
        if (open && open != wanted)
            fe_strbuf_format(writer->out, "</%s>\n", open);
        if (wanted && open != wanted)
            fe_strbuf_format(writer->out, "<%s>\n", wanted);
        open = wanted;
        write_block(writer, i);
    }
    if (open)
        fe_strbuf_format(writer->out, "</%s>\n", open);
}

/* ---- Page ---- */

static bool is_part(const document_block *block)
{
    return block->kind == BLOCK_HEADING && block->level == 2;
}

/* Links to the parts, where there are enough to get lost in; folded, so the verdict is first.
 */
static void write_contents(const html_writer *writer)
{
    const fe_document *doc = writer->doc;
    size_t parts = 0;
    for (size_t i = 0; i < doc->block_count; i++)
        parts += is_part(&doc->blocks[i]);
    if (parts < 4)
        return;
    fe_strbuf_append(writer->out, "<nav aria-label=\"Parts of this report\"><details>"
                                  "<summary>Parts of this report</summary><ul>\n");
    for (size_t i = 0; i < doc->block_count; i++) {
        if (!is_part(&doc->blocks[i]))
            continue;
        fe_strbuf_format(writer->out, "<li><a href=\"#part-%zu\">", i);
        write_inline(writer, doc->blocks[i].text);
        fe_strbuf_append(writer->out, "</a></li>\n");
    }
    fe_strbuf_append(writer->out, "</ul></details></nav>\n");
}

/* A text between quotes of a style; what is no letter or digit goes by its number. */
static void write_style_text(const html_writer *writer, const char *text)
{
    fe_strbuf plain = FE_STRBUF_INIT;
    document_plain(writer->doc, text, writer->units, &plain);
    fe_strbuf_append_char(writer->out, '"');
    for (const char *at = plain.failed ? "" : fe_strbuf_text(&plain); *at; at++) {
        const unsigned char byte = (unsigned char)*at;
        if (byte >= 0x80 || byte == ' ' || isalnum(byte))
            fe_strbuf_append_char(writer->out, *at);
        else
            fe_strbuf_format(writer->out, "\\%x ", (unsigned)byte);
    }
    fe_strbuf_append_char(writer->out, '"');
    writer->out->failed = writer->out->failed || plain.failed;
    fe_strbuf_free(&plain);
}

/* What stands at the foot of each printed page, beside its number. */
static void write_foot(const html_writer *writer)
{
    fe_strbuf_append(writer->out, "<style>\n" PAPER_FOOT_STYLE "content:");
    write_style_text(writer, writer->doc->title);
    fe_strbuf_append(writer->out, "}}\n</style>\n");
}

/* The policy forbids what the page has no use for, should a text ever slip through. */
static void write_head(const html_writer *writer, const char *style)
{
    fe_strbuf_append(
        writer->out,
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
        "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; "
        "style-src 'unsafe-inline'; img-src data:\">\n"
        "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
        "<meta name=\"color-scheme\" content=\"light dark\">\n"
        "<link rel=\"icon\" href=\"data:,\">\n<title>");
    write_plain(writer, writer->doc->title);
    fe_strbuf_append(writer->out, "</title>\n<style>\n");
    fe_strbuf_append(writer->out, PAGE_STYLE);
    fe_strbuf_append(writer->out, PAPER_STYLE);
    fe_strbuf_append(writer->out, style);
    fe_strbuf_append(writer->out, "</style>\n");
}

fe_status fe_document_html(const fe_document *doc, fe_units units, fe_strbuf *out)
{
    const fe_status whole = fe_document_status(doc);
    if (whole < 0)
        return whole;
    const html_writer writer = {doc, units, out};
    write_head(&writer, "");
    write_foot(&writer);
    fe_strbuf_append(
        out, "</head>\n<body>\n<a class=\"skip\" href=\"#main\">Skip to the report</a>\n");
    write_element(&writer, "<header><h1>", doc->title, "</h1></header>");
    write_contents(&writer);
    fe_strbuf_append(out, "<main id=\"main\" tabindex=\"-1\">\n");
    write_blocks(&writer);
    fe_strbuf_append(out, "</main>\n</body>\n</html>\n");
    return fe_strbuf_status(out);
}

/* ---- Sheet ---- */

/* Lines that the blocks take, near enough to choose a size of letters by. */
static size_t count_lines(const fe_document *doc)
{
    enum { LETTERS_A_LINE = 60 };
    size_t lines = 0;
    for (size_t i = 0; i < doc->block_count; i++) {
        const document_block *block = &doc->blocks[i];
        lines += 1 + strlen(block->text) / LETTERS_A_LINE + block->table.row_count;
    }
    return lines;
}

/* Letters as large as one side of A4 allows, by what the sheets of all kinds took in print. */
static const char *size_of(const fe_document *doc)
{
    static const struct {
        size_t most_lines;
        const char *name;
    } SIZES[] = {
        {62, "sheet"}, {75, "sheet close"}, {96, "sheet closer"}, {110, "sheet dense"}};
    const size_t lines = count_lines(doc);
    for (size_t i = 0; i < sizeof SIZES / sizeof SIZES[0]; i++)
        if (lines <= SIZES[i].most_lines)
            return SIZES[i].name;
    return "sheet closest";
}

fe_status fe_document_sheet(const fe_document *doc, fe_units units, fe_strbuf *out)
{
    const fe_status whole = fe_document_status(doc);
    if (whole < 0)
        return whole;
    const html_writer writer = {doc, units, out};
    write_head(&writer, SHEET_STYLE);
    fe_strbuf_format(out, "</head>\n<body class=\"%s\">\n", size_of(doc));
    write_element(&writer, "<header><h1>", doc->title, "</h1></header>");
    fe_strbuf_append(out, "<main id=\"main\">\n");
    write_blocks(&writer);
    fe_strbuf_append(out, "</main>\n</body>\n</html>\n");
    return fe_strbuf_status(out);
}
