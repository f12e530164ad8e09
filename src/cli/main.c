// SPDX-License-Identifier: GPL-3.0-or-later
// flaskwright-cli: the planner without a window. One file per command; this one finds the command.
#include <glib/gi18n-lib.h>
#include <langinfo.h>
#include <locale.h>
#include <stdarg.h>
#include <stdio.h>

#include "base/error.h"
#include "cli/cli.h"

static const CliCommand commands[] = {
    {"part", "FILE", N_("measure a finished-part mesh"), cli_part},
    {"pull", "FILE", N_("search for the best pull of a part, or judge one"), cli_pull},
    {"plan", "BOOK", N_("print the whole plan for a job"), cli_plan},
    {"pattern", "BOOK", N_("write the patterns to print, cope and drag, to a folder"), cli_pattern},
    {"new", "BOOK", N_("make a book with a ready shop, and one job from a mesh"), cli_new},
    {"sketch", "BOOK", N_("draw the flask, the rough casting or the session timeline to a file"),
     cli_sketch},
    {"traveller", "BOOK", N_("write the sheets that go with a job through the shop, as a PDF"),
     cli_traveller},
    {"session", "BOOK", N_("lay all jobs out over the shop's free days; a calendar of sessions"),
     cli_session},
    {"log", "BOOK [DO [WORD]]",
     N_("list what was poured, or start, tick and finish a day: start, tick KEY, note WORDS, undo, "
        "finish, discard, result good|scrap"),
     cli_log},
    {"metals", "[ID…]", N_("list metals with their data and sources"), cli_metals},
};

const CliCommand *
cli_find(const char *name)
{
    for (guint i = 0; i < G_N_ELEMENTS(commands); i++)
        if (g_str_equal(commands[i].name, name))
            return &commands[i];
    return NULL;
}

int
cli_fail(const GError *error)
{
    g_printerr("flaskwright-cli: %s\n", error->message);
    return CLI_BAD_INPUT;
}

int
cli_usage(const char *format, ...)
{
    va_list args;
    va_start(args, format);
    g_autofree char *text = g_strdup_vprintf(format, args);
    va_end(args);
    g_printerr("flaskwright-cli: %s\n", text);
    return CLI_USAGE;
}

int
cli_options(const char *name, const GOptionEntry *entries, int *argc, char ***argv, int least,
            int most, gboolean *finished)
{
    const CliCommand *command = cli_find(name);
    g_autofree char *shape = g_strdup_printf("%s", command->arguments);
    g_autoptr(GOptionContext) context = g_option_context_new(shape);
    g_option_context_set_summary(context, _(command->summary));
    g_option_context_set_help_enabled(context, FALSE);
    gboolean help = FALSE;
    const GOptionEntry help_entry[] = {
        {"help", 'h', 0, G_OPTION_ARG_NONE, &help, N_("Show this help"), NULL}, {NULL}};
    g_option_context_set_translation_domain(context, GETTEXT_PACKAGE);
    g_option_context_add_main_entries(context, entries, GETTEXT_PACKAGE);
    g_option_context_add_main_entries(context, help_entry, GETTEXT_PACKAGE);
    g_autofree char *program = g_strdup_printf("flaskwright-cli %s", name);
    g_set_prgname(program);
    g_autoptr(GError) error = NULL;
    *finished = FALSE;
    if (!g_option_context_parse(context, argc, argv, &error))
        return cli_usage("%s: %s", name, error->message);
    if (help) {
        g_autofree char *text = g_option_context_get_help(context, TRUE, NULL);
        g_print("%s", text);
        *finished = TRUE;
        return CLI_DONE;
    }
    int left = *argc - 1;
    if (left < least || left > most)
        return cli_usage(_("%s wants %s; see flaskwright-cli %s --help"), name, command->arguments,
                         name);
    return CLI_DONE;
}

const char *
cli_job(const Book *book, const char *file, const char *asked, GError **error)
{
    if (book_job_count(book) == 0) {
        base_error_set(error, BASE_ERROR_NOT_FOUND, file, NULL, _("the book has no job"),
                       _("add one, in the window or with new --mesh"));
        return NULL;
    }
    if (!asked)
        return book_job_id(book, 0);
    if (book_has_job(book, asked))
        return asked;
    g_autoptr(GString) names = g_string_new(NULL);
    for (guint i = 0; i < book_job_count(book); i++)
        g_string_append_printf(names, "%s%s", i ? ", " : "", book_job_id(book, i));
    g_autofree char *remedy = g_strdup_printf(_("its jobs are: %s"), names->str);
    base_error_setf(error, BASE_ERROR_NOT_FOUND, file, NULL, remedy, _("no job called \"%s\""),
                    asked);
    return NULL;
}

static void
print_help(void)
{
    g_print("%s\n\n", _("Usage: flaskwright-cli COMMAND …"));
    for (guint i = 0; i < G_N_ELEMENTS(commands); i++) {
        g_autofree char *head = g_strdup_printf("%s %s", commands[i].name, commands[i].arguments);
        g_print("  %-16s %s\n", head, _(commands[i].summary));
    }
    g_print("\n%s\n", _("flaskwright-cli COMMAND --help tells a command's options."));
    g_print("%s\n", _("Exit status: 0 done, 1 the input cannot be used, 2 usage, 3 a check fails "
                      "(with --strict)."));
}

int
main(int argc, char **argv)
{
    setlocale(LC_ALL, "");
    // The plain C locale says ASCII, and every ° and ³ would come out as a question mark.
    if (g_str_equal(nl_langinfo(CODESET), "ANSI_X3.4-1968"))
        setlocale(LC_CTYPE, "C.UTF-8");
    const char *folder = g_getenv("FLASKWRIGHT_LOCALE_DIR");
    bindtextdomain(GETTEXT_PACKAGE, folder ? folder : FW_LOCALE_DIR);
    bind_textdomain_codeset(GETTEXT_PACKAGE, "UTF-8");
    textdomain(GETTEXT_PACKAGE);
    if (argc < 2)
        return cli_usage("%s", _("no command; see flaskwright-cli --help"));
    if (g_str_equal(argv[1], "--help") || g_str_equal(argv[1], "-h")) {
        print_help();
        return CLI_DONE;
    }
    if (g_str_equal(argv[1], "--version")) {
        g_print("flaskwright %s\n", FW_VERSION);
        return CLI_DONE;
    }
    const CliCommand *command = cli_find(argv[1]);
    if (!command)
        return cli_usage(_("no command called \"%s\"; see flaskwright-cli --help"), argv[1]);
    int code = command->run(argc - 1, argv + 1);
    // A full disk shows only when what was printed is written out.
    if ((fflush(stdout) != 0 || ferror(stdout)) && (code == CLI_DONE || code == CLI_CHECK_FAILS)) {
        g_printerr("flaskwright-cli: %s\n", _("standard output: could not be written; make room or "
                                              "choose another place"));
        return CLI_BAD_INPUT;
    }
    return code;
}
