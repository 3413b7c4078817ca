/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `farend claim`: a statement about range, put to the test. */
#include "app/command.h"
#include "app/output.h"

#include "app/claim_kinds.h"
#include "app/radio_setup.h"
#include "farend/claim.h"

static const option OPTIONS[] = {
    {.name = "from",
     .kind = OPTION_QUANTITY,
     .dimension = FE_DIM_FREQUENCY,
     .bounds = "1 Hz..1000 THz",
     .help = "frequency before"},
    {.name = "to",
     .kind = OPTION_QUANTITY,
     .dimension = FE_DIM_FREQUENCY,
     .bounds = "1 Hz..1000 THz",
     .help = "frequency after"},
    {.name = "range-factor",
     .kind = OPTION_TEXT,
     .metavar = "FACTOR",
     .help = "claimed change of range: 4, +300%, 300%"},
    {.name = "frequency",
     .kind = OPTION_QUANTITY,
     .dimension = FE_DIM_FREQUENCY,
     .bounds = "1 Hz..1000 THz",
     .help = "frequency of a claim about one piece of gear"},
    {.name = "distance",
     .kind = OPTION_QUANTITY,
     .dimension = FE_DIM_LENGTH,
     .bounds = "1 mm..1000000 km",
     .help = "how far it is claimed to reach"},
    OPTION_ROWS_RADIO,
    OPTION_ROW_FIGURES,
    OPTION_ROW_JSON,
    OPTION_ROW_UNITS,
    OPTION_ROW_PROFILES,
    {0},
};

/* ---- What both kinds share ---- */

bool claim_frequency_is_plausible(const options *given, const char *name)
{
    const double f_hz = options_number(given, name, 2.4e9);
    const double meant_hz = fe_claim_frequency_meant_hz(f_hz);
    if (meant_hz == 0.0)
        return true;
    options_complain(
        CLAIM_WHO, "--%s: %s is no frequency of a radio link; did you mean %g GHz? Then say so",
        name, options_text(given, name), meant_hz / 1e9);
    return false;
}

fe_status claim_draw(fe_document *doc, const fe_claim_curve_data *data, const options *given)
{
    if (!options_given(given, "figures"))
        return FE_OK; /* words alone: gnuplot need not run */
    fe_figure figure = FE_FIGURE_INIT;
    const fe_status built = fe_figure_claim(data, output_units(given), &figure);
    return output_draw(CLAIM_WHO, built, &figure, doc);
}

/* ---- The command ---- */

/* Says which of the names are missing, or in the way; how many. */
static int complain_of(const options *given, const char *const *names, bool wanted,
                       const char *what)
{
    int mistakes = 0;
    for (; *names; names++)
        if (options_given(given, *names) != wanted) {
            options_complain(CLAIM_WHO, "--%s%s", *names, what);
            mistakes++;
        }
    return mistakes;
}

static int run(const options *given)
{
    const bool step = options_given(given, "from") || options_given(given, "to") ||
                      options_given(given, "range-factor");
    const bool reach = options_given(given, "frequency") || options_given(given, "distance");
    if (step && reach) {
        options_complain(CLAIM_WHO,
                         "--from, --to, --range-factor are one kind of claim, --frequency "
                         "and --distance another: test one at a time");
        return EXIT_BAD_INPUT;
    }
    static const char *const STEP[] = {"from", "to", "range-factor", NULL};
    static const char *const REACH[] = {"frequency", "distance", NULL};
    static const char *const OF_GEAR[] = {"gear", "rate", NULL};
    int mistakes = complain_of(given, reach ? REACH : STEP, true, " is missing");
    if (step)
        mistakes += complain_of(given, OF_GEAR, false,
                                ": goes with --frequency and --distance; a step of frequency "
                                "is tested for any gear");
    if (mistakes > 0)
        return EXIT_BAD_INPUT;
    return step ? claim_step(given) : claim_reach(given);
}

const command COMMAND_CLAIM = {
    .name = "claim",
    .summary = "test a statement about range",
    .usage = "--from F --to F --range-factor K [OPTION]...\n"
             "--frequency F --distance D [OPTION]...",
    .description =
        "Tests one of two kinds of statement. \"Going from one frequency to another\n"
        "multiplies the range by K\": what frequency alone gives in free space, beyond the\n"
        "break-point, through the walls and trees named, and which causes could supply the\n"
        "rest. \"This gear reaches D at F\": the chance, the margin and the range, and\n"
        "whether Wi-Fi may transmit there at all.\n"
        "\n"
        "4 is four times the range, 300% three times, +300% four times; the answer says\n"
        "which reading it used.\n",
    .options = OPTIONS,
    .example = "--from 5.2GHz --to 2.4GHz --range-factor 4",
    .run = run,
};
