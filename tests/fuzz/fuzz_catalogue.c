/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One file of a catalogue; the first byte says in which folder it lies. */
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "farend/plan.h"
#include "fuzz.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static const char *const KINDS[] = {"gear", "cable", "climate"};
    char root[512], folder[540], path[560];
    if (size < 1)
        return 0;
    const char *const made = fuzz_file("input.ini", data + 1, size - 1);
    snprintf(root, sizeof root, "%.*s", (int)(strrchr(made, '/') - made), made);
    snprintf(folder, sizeof folder, "%s/%s", root, KINDS[data[0] % 3]);
    snprintf(path, sizeof path, "%s/input.ini", folder);
    if (mkdir(folder, 0700) != 0 || rename(made, path) != 0)
        return 0;

    const fe_plan_places places = {.environment = root};
    fe_plan plan = {0};
    fe_messages messages = {0};
    const fe_status status = fe_plan_catalogue(&places, &plan, &messages);
    FUZZ_CLAIM((status == FE_OK) == fe_messages_none(&messages));
    fe_plan_free(&plan);
    fe_messages_free(&messages);
    unlink(path);
    rmdir(folder);
    return 0;
}
