// SPDX-License-Identifier: GPL-3.0-or-later
// What the commands share: the table of commands, exit codes and how to fail.
#pragma once

#include <glib.h>

#include "book/book.h"
#include "metal/tables.h"
#include "plan/plan.h"

G_BEGIN_DECLS

enum {
    CLI_DONE = 0,
    CLI_BAD_INPUT = 1,   // one line on standard error says why
    CLI_USAGE = 2,       // the command line makes no sense
    CLI_CHECK_FAILS = 3, // with --strict
};

typedef struct {
    const char *name;
    const char *arguments;             // "FILE"
    const char *summary;               // N_(...)
    int (*run)(int argc, char **argv); // argv[0] is the command's name
} CliCommand;

int cli_part(int argc, char **argv);
int cli_pattern(int argc, char **argv);
int cli_pull(int argc, char **argv);
int cli_plan(int argc, char **argv);
int cli_new(int argc, char **argv);
int cli_session(int argc, char **argv);
int cli_sketch(int argc, char **argv);
int cli_log(int argc, char **argv);
int cli_traveller(int argc, char **argv);
int cli_metals(int argc, char **argv);

const CliCommand *cli_find(const char *name); // NULL if there is none

// Prints "flaskwright-cli: message" and returns the code.
int cli_fail(const GError *error);
int cli_usage(const char *format, ...) G_GNUC_PRINTF(1, 2);

// Parses options for the command called `name`. CLI_DONE to go on; else the code to return. With
// --help it prints and sets *finished. Wants `least` to `most` arguments left over.
int cli_options(const char *name, const GOptionEntry *entries, int *argc, char ***argv, int least,
                int most, gboolean *finished);

// FALSE with an error that says why when nothing can be made by the plan: a stage that failed, or a
// casting that the flask does not hold. A plan of the first stages is judged by those.
gboolean cli_usable(const Plan *plan, const char *file, GError **error);

// The job asked for, or the book's first when `asked` is NULL. NULL with an error.
const char *cli_job(const Book *book, const char *file, const char *asked, GError **error);

G_END_DECLS
