/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef APP_PROGRESS_H
#define APP_PROGRESS_H

/*
 * A line on stderr while work takes over a second, and only where stderr is a terminal:
 * "farend report: working, 3 s". It is written by the alarm signal, so the work knows nothing
 * of it; system calls are restarted, except those that wait with a time of their own, which
 * must allow for EINTR. Taken back before anything is printed.
 */
void progress_start(const char *who);

/* Wipes the line, if there is one, and shows none again. May be called at any time. */
void progress_end(void);

#endif
