/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A program that only links what the library cannot do without: what start-up is held against.
 */
#include <gsl/gsl_errno.h>
#include <udunits2.h>

int main(void)
{
    gsl_set_error_handler_off();
    return ut_get_status() == UT_SUCCESS ? 0 : 1;
}
