/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A ground profile; what is accepted is in rising order and all finite. */
#include <math.h>

#include "farend/profile.h"
#include "fuzz.h"

static void check(const fe_profile *profile)
{
    FUZZ_CLAIM(profile->count >= 2 && profile->count <= FE_PROFILE_MOST_POINTS);
    FUZZ_CLAIM(profile->distance_m[0] == 0.0);
    for (size_t i = 0; i < profile->count; i++) {
        FUZZ_CLAIM(isfinite(profile->distance_m[i]) && isfinite(profile->height_m[i]));
        FUZZ_CLAIM(i == 0 || profile->distance_m[i] > profile->distance_m[i - 1]);
        FUZZ_CLAIM(!profile->clutter_m || profile->clutter_m[i] >= 0.0);
        FUZZ_CLAIM(!profile->height_error_m || profile->height_error_m[i] >= 0.0);
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    fe_profile profile = {0};
    fe_messages messages = {0};
    const fe_status status =
        fe_profile_read(fuzz_file("profile.csv", data, size), &profile, &messages);
    FUZZ_CLAIM((status == FE_OK) == fe_messages_none(&messages));
    if (status == FE_OK)
        check(&profile);
    fe_profile_free(&profile);
    fe_messages_free(&messages);
    return 0;
}
