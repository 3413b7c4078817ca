/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A quantity and a range of quantities; the first byte is the dimension. */
#include <math.h>
#include <stdlib.h>

#include "farend/quantity.h"
#include "fuzz.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    if (size < 1)
        return 0;
    const fe_dimension dimension = (fe_dimension)(data[0] % FE_DIM_LAST);
    char *const text = fuzz_text(data + 1, size - 1);
    double si = 0.0;
    if (fe_quantity_parse(text, dimension, &si) == FE_OK)
        FUZZ_CLAIM(isfinite(si));
    fe_value value = {0};
    if (fe_value_parse(text, dimension, &value) == FE_OK)
        FUZZ_CLAIM(isfinite(value.low) && isfinite(value.high) && isfinite(value.typical) &&
                   value.low <= value.typical && value.typical <= value.high);
    free(text);
    return 0;
}
