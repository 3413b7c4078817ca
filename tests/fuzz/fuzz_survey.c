/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A list of readings with tape, level or slope meter. */
#include <math.h>

#include "farend/survey.h"
#include "fuzz.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    fe_survey survey = {0};
    fe_messages messages = {0};
    const fe_status status =
        fe_survey_read(fuzz_file("survey.csv", data, size), &survey, NULL, &messages);
    FUZZ_CLAIM(status >= 0 || !fe_messages_none(&messages));
    for (size_t i = 0; status >= 0 && i < survey.profile.count; i++)
        FUZZ_CLAIM(isfinite(survey.profile.distance_m[i]) &&
                   isfinite(survey.profile.height_m[i]));
    fe_survey_free(&survey);
    fe_messages_free(&messages);
    return 0;
}
