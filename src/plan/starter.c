/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "farend/starter.h"

#include <stdio.h>
#include <string.h>

#include "base/name.h"
#include "plan/reader.h"

enum { LONGEST_NAME = 40, LONGEST_TEXT = 120, LINE_COLUMNS = 90, REMARK_COLUMN = 34 };

/* Names of the two ends: the first one is home. */
static const char HOME[] = "house";

typedef enum question_id {
    ASK_NAME,
    ASK_REGION,
    ASK_BUILDING,
    ASK_DISTANCE,
    ASK_RISE,
    ASK_LAND,
    ASK_TREES,
    ASK_TREE_KIND,
    ASK_TREE_HEIGHT,
    ASK_HOUSE_HEIGHT,
    ASK_FAR_HEIGHT,
    ASK_DATA,
    ASK_MAINS,
    ASK_POWER,
    ASK_HOURS,
    ASK_POSTS,
    ASK_SOIL,
    ASK_SNOW,
    ASK_COLDEST,
    QUESTIONS
} question_id;

typedef struct question {
    plan_part part; /* PARTS: no key of its own */
    const char *key;
    const char *name;
    const char *ask;
    const char *hint;        /* null: from the key */
    const char *fallback;    /* null: the key's */
    const char *fallback_us; /* null: the same */
} question;

/* clang-format off */
/* Fallbacks that differ from the key's are common practice, no source. */
static const question QUESTION[QUESTIONS] = {
    [ASK_NAME] = {PART_SITE, "name", "name", "What shall the plan be called?", "any words", "my outbuilding", NULL},
    [ASK_REGION] = {PART_SITE, "region", "region", "Whose rules for radio hold where you are?", NULL, NULL, "US"},
    [ASK_BUILDING] = {PARTS, NULL, "building", "What do you call the building out there?", "a word or two", "shed", NULL},
    [ASK_DISTANCE] = {PART_PATH, "distance", "distance", "How far is it from the house, straight across?", "150 m, 500 ft, 0.2 mi, 140..170 m or unknown", "unknown", NULL},
    [ASK_RISE] = {PART_PATH, "rise", "rise", "How much higher than the house does it stand? (minus: lower)", "4 m, -10 ft, -2..2 m or unknown", "0 m", "0 ft"},
    [ASK_LAND] = {PART_PATH, "land", "land", "What lies between, apart from trees?", NULL, NULL, NULL},
    [ASK_TREES] = {PARTS, NULL, "trees", "From where to where does the line pass through trees or a hedge?", "none, unknown, or from..to as seen from the house: 80..95 m", "none", NULL},
    [ASK_TREE_KIND] = {PART_TREES, "kind", "tree-kind", "What sort of trees are they?", NULL, NULL, NULL},
    [ASK_TREE_HEIGHT] = {PART_TREES, "height", "tree-height", "How tall are they?", NULL, NULL, "30 ft"},
    [ASK_HOUSE_HEIGHT] = {PART_END, "height", "house-height", "How high above the ground can something hang on the house?", NULL, NULL, "10 ft"},
    [ASK_FAR_HEIGHT] = {PART_END, "height", "far-height", "How high can something hang on the other building?", NULL, NULL, "10 ft"},
    [ASK_DATA] = {PART_TRAFFIC, "stream", "data", "How much data comes home, all the time? (a camera: about 3 Mb/s)", NULL, "3 Mb/s", NULL},
    [ASK_MAINS] = {PART_END, "mains", "mains", "Is there mains power out there?", NULL, "no", NULL},
    [ASK_POWER] = {PART_LOAD, "power", "power", "How much power is wanted out there, beside the radio?", "none, 60 W, 1.2 kW, 20..60 W or unknown", "none", NULL},
    [ASK_HOURS] = {PART_LOAD, "hours", "hours", "How many hours a day does it run, in winter?", "24 h, 6 h, 2..4 h or unknown", NULL, NULL},
    [ASK_POSTS] = {PART_POSTS, "length", "posts", "How long are the posts that a cable could hang on?", "none, 7 m, 25 ft", "none", NULL},
    [ASK_SOIL] = {PART_POSTS, "soil", "soil", "What would the posts stand in?", NULL, NULL, NULL},
    [ASK_SNOW] = {PART_CLIMATE, "deepest-snow", "snow", "How deep does the snow get?", NULL, NULL, "1 ft"},
    [ASK_COLDEST] = {PART_CLIMATE, "coldest", "coldest", "How cold does it get?", NULL, NULL, "5 degF"},
};
/* clang-format on */

/* Sections that stay switched off until somebody wants them, in the plan's order. */
static const plan_part LATER[] = {PART_RELAY, PART_OWN,   PART_TRENCH, PART_CABLE,
                                  PART_SOLAR, PART_SPARE, PART_PRICES, PART_READING};

/* ---- Questions ---- */

static const plan_key *key_of(question_id id)
{
    return QUESTION[id].key ? plan_key_find(QUESTION[id].part, QUESTION[id].key) : NULL;
}

static const char *fallback_of(question_id id, bool us)
{
    const question *asked = &QUESTION[id];
    if (us && asked->fallback_us)
        return asked->fallback_us;
    if (asked->fallback)
        return asked->fallback;
    const plan_key *key = key_of(id);
    return key && key->fallback ? key->fallback : "unknown";
}

size_t fe_starter_questions(void)
{
    return QUESTIONS;
}

/* Forms by the kind of the key, for questions that say none themselves. */
static const char *hint_of(question_id id)
{
    static const struct {
        fe_dimension dimension;
        const char *hint;
    } HINTS[] = {
        {FE_DIM_LENGTH, "3 m, 12 ft, 2..4 m or unknown"},
        {FE_DIM_TEMPERATURE, "-15 degC, 5 degF or unknown"},
        {FE_DIM_DATA_RATE, "6 Mb/s, 5 kb/s, 2..8 Mb/s or unknown"},
    };
    static const struct {
        question_id id;
        const char *hint;
    } WORDS[] = {
        {ASK_REGION, "US, EU, UK, CA, AU"},
        {ASK_LAND, "meadow, field, yard, water, woodland or unknown"},
        {ASK_TREE_KIND, "deciduous, conifer, hedge or unknown"},
        {ASK_MAINS, "yes, no or unknown"},
        {ASK_SOIL, "clay, sand, stony, gravel, rock or unknown"},
    };
    if (QUESTION[id].hint)
        return QUESTION[id].hint;
    for (size_t i = 0; i < sizeof WORDS / sizeof WORDS[0]; i++)
        if (WORDS[i].id == id)
            return WORDS[i].hint;
    const plan_key *key = key_of(id);
    for (size_t i = 0; key && i < sizeof HINTS / sizeof HINTS[0]; i++)
        if (HINTS[i].dimension == key->dimension)
            return HINTS[i].hint;
    return "";
}

fe_starter_question fe_starter_question_at(size_t index)
{
    const question_id id = (question_id)index;
    return (fe_starter_question){QUESTION[id].name,
                                 QUESTION[id].ask,
                                 hint_of(id),
                                 {fallback_of(id, false), fallback_of(id, true)}};
}

size_t fe_starter_find(const char *name)
{
    for (size_t i = 0; i < QUESTIONS; i++)
        if (strcmp(QUESTION[i].name, name) == 0)
            return i;
    return QUESTIONS;
}

static const char *answer_of(question_id id, const char *const *answers, bool us)
{
    return answers[id] ? answers[id] : fallback_of(id, us);
}

static bool is_none(const char *answer)
{
    return name_same(answer, "none");
}

bool fe_starter_asks(size_t index, const char *const *answers)
{
    switch ((question_id)index) {
    case ASK_TREE_KIND:
    case ASK_TREE_HEIGHT:
        return !is_none(answer_of(ASK_TREES, answers, false));
    case ASK_POWER:
        return !name_same(answer_of(ASK_MAINS, answers, false), "yes");
    case ASK_HOURS:
        return fe_starter_asks(ASK_POWER, answers) &&
               !is_none(answer_of(ASK_POWER, answers, false));
    case ASK_SOIL:
        return !is_none(answer_of(ASK_POSTS, answers, false));
    default:
        return true;
    }
}

/* ---- Checks ---- */

/* Words that a plan gives back as they were typed. */
static fe_status check_words(const char *answer, size_t longest, const char *refused,
                             fe_strbuf *why)
{
    const size_t length = strlen(answer);
    if (length == 0 || length > longest || answer[0] == ' ' || answer[length - 1] == ' ') {
        fe_strbuf_format(why, "expected 1 to %zu letters, no blank at either end", longest);
        return FE_E_INPUT;
    }
    if (strpbrk(answer, refused)) {
        fe_strbuf_format(why, "the signs %s have a meaning in a plan; leave them out", refused);
        return FE_E_INPUT;
    }
    if (!ini_text_is_clean(answer)) {
        fe_strbuf_append(why, "it holds a sign that is no letter (or the text is no UTF-8)");
        return FE_E_INPUT;
    }
    return FE_OK;
}

static fe_status check_building(const char *answer, fe_strbuf *why)
{
    const fe_status status = check_words(answer, LONGEST_NAME, "[];#=", why);
    if (status == FE_OK && strcmp(answer, HOME) == 0) {
        fe_strbuf_format(why, "\"%s\" is the near end; give the other one another name", HOME);
        return FE_E_INPUT;
    }
    return status;
}

/* Runs the plan reader's own code over one answer. */
static fe_status check_key(question_id id, const char *answer, fe_strbuf *why)
{
    static const char FILE_NAME[] = "answer";
    const plan_key *row = key_of(id);
    const plan_section *section = plan_section_of(row->part);
    fe_plan plan = {0};
    fe_messages messages = {0};
    plan_reader reader = {.plan = &plan, .messages = &messages};
    const plan_entry entry = {.row = row,
                              .file = FILE_NAME,
                              .line = 1,
                              .section = section->word,
                              .key = row->key,
                              .text = answer};
    void *base = section->count_offset == NOWHERE ? plan_item(&plan, row->part, 0)
                                                  : plan_item_add(&plan, row->part);
    if (!base)
        return FE_E_MEMORY;
    plan_read_entry(&reader, &entry, base);
    char before[80];
    snprintf(before, sizeof before, "%s:1: [%s] %s: ", FILE_NAME, section->word, row->key);
    if (messages.count > 0) {
        const char *said = messages.items[0].text;
        const size_t length = strlen(before);
        fe_strbuf_append(why, strncmp(said, before, length) == 0 ? said + length : said);
    }
    const bool refused = !fe_messages_none(&messages);
    fe_messages_free(&messages);
    fe_plan_free(&plan);
    return refused ? FE_E_INPUT : reader.no_memory ? FE_E_MEMORY : FE_OK;
}

/* The distance as the reader takes it; its class where unknown. */
static bool distance_of(const char *const *answers, fe_value *distance_m)
{
    const char *answer = answer_of(ASK_DISTANCE, answers, false);
    if (name_same(answer, "unknown"))
        answer = key_of(ASK_DISTANCE)->unknown;
    return fe_value_parse(answer, FE_DIM_LENGTH, distance_m) == FE_OK;
}

static fe_status check_trees(const char *answer, const char *const *answers, fe_strbuf *why)
{
    fe_value stretch;
    fe_value distance_m;
    if (is_none(answer) || name_same(answer, "unknown"))
        return FE_OK;
    if (fe_value_parse(answer, FE_DIM_LENGTH, &stretch) != FE_OK ||
        !fe_value_is_open(stretch) || stretch.low < 0.0) {
        fe_strbuf_format(why,
                         "read \"%s\", expected none, unknown, or where the trees begin and "
                         "end with the unit, for example 80..95 m",
                         answer);
        return FE_E_INPUT;
    }
    if (distance_of(answers, &distance_m) && stretch.high > distance_m.high) {
        fe_strbuf_format(why, "they would end %.0f m from the house, beyond the building",
                         stretch.high);
        return FE_E_INPUT;
    }
    return FE_OK;
}

fe_status fe_starter_check(size_t index, const char *answer, const char *const *answers,
                           fe_strbuf *why)
{
    switch ((question_id)index) {
    case ASK_NAME:
        return check_words(answer, LONGEST_TEXT, ";#", why);
    case ASK_BUILDING:
        return check_building(answer, why);
    case ASK_TREES:
        return check_trees(answer, answers, why);
    case ASK_POWER:
    case ASK_POSTS:
        return is_none(answer) ? FE_OK : check_key((question_id)index, answer, why);
    default:
        /* No sign that begins a remark or a second line gets past the reader's numbers. */
        return strpbrk(answer, ";\r\n") ? check_words(answer, LONGEST_TEXT, ";\r\n", why)
                                        : check_key((question_id)index, answer, why);
    }
}

/* ---- Writing ---- */

/* An answered key of a section. */
typedef struct answered {
    const char *key;
    const char *value;
    const char *remark; /* in place of the key's help; null: that */
    bool assumed;       /* nobody answered */
} answered;

static answered take(const char *key, question_id id, const char *const *answers, bool us)
{
    return (answered){key, answer_of(id, answers, us), NULL, answers[id] == NULL};
}

/* What stands for the open end of a key such as "over *". */
static const char *key_name(const plan_key *row, char *buffer, size_t size)
{
    const char *star = strchr(row->key, '*');
    if (!star)
        return row->key;
    const char *example = row->part == PART_OWN      ? "outdoor-access-point"
                          : row->part == PART_PRICES ? "outdoor-data"
                                                     : "track";
    snprintf(buffer, size, "%.*s%s", (int)(star - row->key), row->key, example);
    return buffer;
}

static void put_remark(const plan_key *row, const answered *given, fe_strbuf *remark)
{
    fe_strbuf_append(remark, given && given->remark ? given->remark : row->help);
    for (size_t i = 0; row->words && row->words[i]; i++)
        fe_strbuf_format(remark, "%s%s", i == 0 ? ": " : ", ", row->words[i]);
    if (given && row->unknown && name_same(given->value, "unknown"))
        fe_strbuf_format(remark, "; unknown: %s is taken", row->unknown);
    if (given && given->assumed)
        fe_strbuf_append(remark, " (assumed)");
}

/* One key with its remark: behind it where there is room, else on a line before. */
static void put_key(const plan_key *row, const answered *given, const char *value,
                    fe_strbuf *out)
{
    char name[64];
    fe_strbuf line = FE_STRBUF_INIT;
    fe_strbuf remark = FE_STRBUF_INIT;
    put_remark(row, given, &remark);
    fe_strbuf_format(&line, "%s%s = %s", given ? "" : ";", key_name(row, name, sizeof name),
                     value);
    const size_t pad = line.length < REMARK_COLUMN ? REMARK_COLUMN - line.length : 1;
    if (line.length + pad + 2 + remark.length <= LINE_COLUMNS) {
        fe_strbuf_append(out, fe_strbuf_text(&line));
        fe_strbuf_repeat(out, ' ', pad);
        fe_strbuf_format(out, "; %s\n", fe_strbuf_text(&remark));
    } else {
        fe_strbuf_format(out, "; %s\n%s\n", fe_strbuf_text(&remark), fe_strbuf_text(&line));
    }
    if (fe_strbuf_status(&line) != FE_OK || fe_strbuf_status(&remark) != FE_OK)
        out->failed = true;
    fe_strbuf_free(&line);
    fe_strbuf_free(&remark);
}

static const answered *find_answered(const answered *given, const char *key)
{
    for (; given && given->key; given++)
        if (strcmp(given->key, key) == 0)
            return given;
    return NULL;
}

/* What a switched-off key shows: its default, or an example that would read. */
static const char *off_value(const plan_key *row, const char *building)
{
    const char *example = plan_key_example(row);
    if (row->kind == KIND_END)
        return strcmp(example, HOME) == 0 ? HOME : building;
    return row->fallback ? row->fallback : example;
}

/* A size stands in the key itself, which one example alone does not show. */
static void put_sized_prices(fe_strbuf *out)
{
    static const char *const PRICES[] = {"duct 32 mm = 2.40 per m",
                                         "supply-cable AWG 12 = 0.95 per ft",
                                         "post 5 m = 42 each", "switch 8 ports = 60 each"};
    for (size_t i = 0; i < sizeof PRICES / sizeof PRICES[0]; i++)
        fe_strbuf_format(out, ";%s\n", PRICES[i]);
}

/*
 * A section with all its keys. `given` ends at a null key; without it the whole section is
 * switched off.
 */
static void put_section(plan_part part, const char *name, const answered *given,
                        const char *building, fe_strbuf *out)
{
    size_t count = 0;
    const plan_key *rows = plan_keys(&count);
    const plan_section *section = plan_section_of(part);
    fe_strbuf_format(out, "\n; %s\n%s[%s%s%s]\n", section->help, given ? "" : ";",
                     section->word, name ? " " : "", name ? name : "");
    for (size_t i = 0; i < count; i++) {
        const plan_key *row = &rows[i];
        if (row->part == PART_PRICES && part == PART_PRICES && strchr(row->key, '*'))
            put_sized_prices(out);
        /* There is one path, without a name: nothing has to say which. */
        if (row->part != section->keys || row->kind == KIND_PATH)
            continue;
        const answered *answer = find_answered(given, row->key);
        const char *off = off_value(row, building);
        put_key(row, answer, answer ? answer->value : off, out);
    }
}

static void put_head(const char *name, fe_strbuf *out)
{
    fe_strbuf_format(
        out,
        "; %s: a plan, begun with a few answers.\n"
        ";\n"
        "; A line that begins with ; is a remark. A key behind a ; without a blank is "
        "switched\n"
        "; off: it shows its default or an example; take the ; away and write your own value.\n"
        "; Values have their unit (3 m, 12 ft, 6 Mb/s, -15 degC). For what you do not know\n"
        "; write a range (2..4 m) or unknown: both ends are computed.\n",
        name);
}

static void put_ends(const char *const *answers, bool us, const char *building, fe_strbuf *out)
{
    const answered home[] = {
        take("height", ASK_HOUSE_HEIGHT, answers, us), {"mains", "yes", NULL, false}, {0}};
    const answered far[] = {take("height", ASK_FAR_HEIGHT, answers, us),
                            take("mains", ASK_MAINS, answers, us),
                            {0}};
    put_section(PART_END, HOME, home, building, out);
    put_section(PART_END, building, far, building, out);
}

/* Where nobody knows where: about the middle, nothing to a fifth of the way. As ranges, for the
 * answer to be worked out at both ends and the trees to be among what is to be measured. */
static void put_trees(const char *const *answers, bool us, const char *building, fe_strbuf *out)
{
    static const char GUESS[] =
        "unknown: nothing to a fifth of the way is computed; go and measure";
    const char *answer = answer_of(ASK_TREES, answers, us);
    fe_value stretch;
    fe_value distance_m;
    const bool unknown = name_same(answer, "unknown");
    char from[40];
    char to[40];
    if (is_none(answer))
        return;
    if (unknown && distance_of(answers, &distance_m)) {
        const double middle_m = 0.5 * distance_m.typical;
        snprintf(from, sizeof from, "%.1f..%.1f m", 0.8 * middle_m, middle_m);
        snprintf(to, sizeof to, "%.1f..%.1f m", middle_m, 1.2 * middle_m);
    } else if (fe_value_parse(answer, FE_DIM_LENGTH, &stretch) == FE_OK) {
        snprintf(from, sizeof from, "%.1f m", stretch.low);
        snprintf(to, sizeof to, "%.1f m", stretch.high);
    } else {
        return; /* was checked */
    }
    const answered given[] = {
        {"from", from, unknown ? GUESS : NULL, false},
        {"to", to, unknown ? GUESS : NULL, false},
        take("kind", ASK_TREE_KIND, answers, us),
        take("height", ASK_TREE_HEIGHT, answers, us),
        {0},
    };
    put_section(PART_TREES, NULL, given, building, out);
}

static void put_power(const char *const *answers, bool us, const char *building, fe_strbuf *out)
{
    static const answered NONE[] = {{0}};
    const bool wanted = fe_starter_asks(ASK_HOURS, answers);
    const answered load[] = {
        take("power", ASK_POWER, answers, us), take("hours", ASK_HOURS, answers, us), {0}};
    put_section(PART_LOAD, NULL, wanted ? load : NULL, building, out);
    put_section(PART_FEED, NULL, wanted ? NONE : NULL, building, out);
}

/* A cable is tied where something can hang on the two buildings. */
static void put_posts(const char *const *answers, bool us, const char *building, fe_strbuf *out)
{
    const answered posts[] = {take("length", ASK_POSTS, answers, us),
                              take("soil", ASK_SOIL, answers, us),
                              take("start-height", ASK_HOUSE_HEIGHT, answers, us),
                              take("end-height", ASK_FAR_HEIGHT, answers, us),
                              {0}};
    put_section(PART_POSTS, NULL, fe_starter_asks(ASK_SOIL, answers) ? posts : NULL, building,
                out);
}

static fe_status check_all(const char *const *answers)
{
    fe_strbuf why = FE_STRBUF_INIT;
    fe_status status = FE_OK;
    for (size_t i = 0; i < QUESTIONS && status == FE_OK; i++)
        if (answers[i] && fe_starter_asks(i, answers))
            status = fe_starter_check(i, answers[i], answers, &why);
    fe_strbuf_free(&why);
    return status;
}

fe_status fe_starter_write(const char *const *answers, bool us, fe_strbuf *out)
{
    const fe_status status = check_all(answers);
    if (status != FE_OK)
        return status;
    const char *building = answer_of(ASK_BUILDING, answers, us);
    const answered site[] = {
        take("name", ASK_NAME, answers, us), take("region", ASK_REGION, answers, us), {0}};
    const answered path[] = {take("distance", ASK_DISTANCE, answers, us),
                             take("rise", ASK_RISE, answers, us),
                             take("land", ASK_LAND, answers, us),
                             {0}};
    const answered traffic[] = {{"from", building, NULL, false},
                                {"to", HOME, NULL, false},
                                take("stream", ASK_DATA, answers, us),
                                {0}};
    const answered climate[] = {take("deepest-snow", ASK_SNOW, answers, us),
                                take("coldest", ASK_COLDEST, answers, us),
                                {0}};
    put_head(site[0].value, out);
    put_section(PART_SITE, NULL, site, building, out);
    put_ends(answers, us, building, out);
    put_section(PART_PATH, NULL, path, building, out);
    put_trees(answers, us, building, out);
    put_section(PART_TRAFFIC, NULL, traffic, building, out);
    put_section(PART_CLIMATE, NULL, climate, building, out);
    put_power(answers, us, building, out);
    put_posts(answers, us, building, out);
    for (size_t i = 0; i < sizeof LATER / sizeof LATER[0]; i++)
        put_section(LATER[i], NULL, NULL, building, out);
    return fe_strbuf_status(out);
}
