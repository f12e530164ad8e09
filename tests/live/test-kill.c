// SPDX-License-Identifier: GPL-3.0-or-later
// A child works through days: starts them, ticks, takes back, saves the book, logs the day, puts
// the journal aside; and is killed, 200 times, wherever it happens to be. Whatever it had been told
// is kept must be there afterwards, in its order and once; the book always opens.
#include <errno.h>
#include <signal.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include "book/store.h"
#include "check.h"
#include "live/clock.h"
#include "live/live.h"
#include "live/log.h"
#include "live/next.h"
#include "live/node-kit.h"
#include "live/task.h"
#include "sample.h"

#define KILLS 200
#define LOADS 3

static Tables *tables;
static char *book_path;

// --- the child ---

// Tells what is kept, in one write, so that half a message is never read.
static void
tell(int pipe, char what, const char *text)
{
    g_autofree char *line = g_strdup_printf("%c%s\n", what, text);
    gsize length = strlen(line);
    if (write(pipe, line, length) != (gssize)length)
        _exit(3);
}

static void
must(gboolean good, const GError *error)
{
    if (good)
        return;
    g_printerr("child: %s\n", error ? error->message : "?");
    _exit(4);
}

static void
save_book(Book **book, const Edit *edit)
{
    g_autoptr(GError) error = NULL;
    Book *next = edit_apply(*book, edit, &error);
    must(next != NULL, error);
    book_unref(*book);
    *book = next;
    must(store_write(next, book_path, TRUE, &error), error);
}

static void
save_number(int pipe, Book **book, guint number)
{
    g_autofree char *text = g_strdup_printf("shop %u", number);
    g_autoptr(Node) name = node_new_text(text);
    g_autoptr(Edit) edit = edit_set("/shop/name", name, "x");
    save_book(book, edit);
    tell(pipe, 'B', text + strlen("shop "));
}

static void
tell_last(int pipe, Live *live)
{
    const GPtrArray *nodes = live_journal_lines(live_journal(live))->nodes;
    g_autofree char *line = store_line(nodes->pdata[nodes->len - 1]);
    tell(pipe, 'L', line);
}

static Live *
start_or_resume(int pipe, GRand *rand)
{
    g_autoptr(GError) error = NULL;
    if (!live_journal_exists(book_path)) {
        g_autoptr(LiveSheet) sheet = sample_sheet(LOADS);
        g_free(sheet->id);
        sheet->id = g_strdup_printf("day-%08x", g_rand_int(rand));
        g_autoptr(Node) first = live_sheet_node(sheet);
        g_autofree char *path = live_journal_path(book_path);
        live_journal_close(live_journal_start(path, first, &error));
        must(error == NULL, error);
        tell(pipe, 'S', sheet->id);
    }
    Live *live = live_resume(book_path, &error);
    must(live != NULL, error);
    return live;
}

static const LiveTask *
find_open(const LiveDay *day)
{
    for (guint i = 0; i < day->n_tasks; i++)
        if (live_task_is_ticked(day->tasks[i].task) && day->tasks[i].state != LIVE_OVER)
            return &day->tasks[i];
    return NULL;
}

// One tick of some kind; FALSE when all is done.
static gboolean
tick_once(Live *live, GRand *rand, UnitSet *units)
{
    g_autoptr(GError) error = NULL;
    const LiveTask *open = find_open(live_day(live));
    const LiveTask *poured = live_last_weighed(live_day(live));
    int chance = g_rand_int_range(rand, 0, 10);
    if (!open)
        return FALSE;
    if (chance == 0 && live_day(live)->ticks > 0)
        must(live_undo(live, &error), error);
    else if (chance == 1)
        must(live_note(live, "Sand a little dry; added 50 ml of oil", &error), error);
    else if (chance == 2 && poured)
        must(live_note_mass(live, poured->task->key, "1.234 kg", units, &error), error);
    else if (live_task_is_begun(open->task) && open->state == LIVE_TO_DO)
        must(live_begin(live, open->task->key, NAN, &error), error);
    else
        must(live_done(live, open->task->key, NAN, &error), error);
    return TRUE;
}

static void
end_day(int pipe, Live *live, Book **book)
{
    g_autoptr(GError) error = NULL;
    g_autofree char *id = g_strdup(live_sheet(live)->id);
    if (!live_day(live)->finished) {
        must(live_finish(live, &error), error);
        tell_last(pipe, live);
    }
    g_autoptr(Edit) edit = live_log_edit(*book, live_day(live));
    if (edit)
        save_book(book, edit);
    tell(pipe, 'F', id);
    must(live_journal_put_aside(live_journal(live), id, &error), error);
    tell(pipe, 'P', id);
}

static void
work(int pipe, guint32 seed)
{
    g_autoptr(GRand) rand = g_rand_new_with_seed(seed);
    g_autoptr(GError) error = NULL;
    Book *book = store_read(book_path, tables, &error);
    must(book != NULL, error);
    UnitSet units = book_units(book);
    guint number = (guint)g_ascii_strtoull(
        node_text(node_get(book_root(book), "/shop/name")) + strlen("shop "), NULL, 10);
    live_clock_set(NULL, NULL);
    for (;;) {
        Live *live = start_or_resume(pipe, rand);
        while (tick_once(live, rand, &units)) {
            tell_last(pipe, live);
            if (g_rand_int_range(rand, 0, 8) == 0)
                save_number(pipe, &book, ++number);
        }
        end_day(pipe, live, &book);
        live_free(live);
    }
}

// --- the parent ---

typedef struct {
    GPtrArray *lines; // char *, kept in the day that is going on, after its first
    char *day;        // its id; NULL: none was told of
    gboolean logged;  // it was told to be in the book
    guint number;     // last one told to be saved
    guint ticks, days;
} Known;

static void
hear_line(Known *known, const char *line)
{
    switch (line[0]) {
    case 'S':
        g_free(known->day);
        known->day = g_strdup(line + 1);
        known->logged = FALSE;
        g_ptr_array_set_size(known->lines, 0);
        break;
    case 'L':
        g_ptr_array_add(known->lines, g_strdup(line + 1));
        known->ticks++;
        break;
    case 'B':
        known->number = (guint)g_ascii_strtoull(line + 1, NULL, 10);
        break;
    case 'F':
        known->days += known->logged ? 0 : 1;
        known->logged = TRUE;
        break;
    case 'P':
        g_clear_pointer(&known->day, g_free);
        g_ptr_array_set_size(known->lines, 0);
        break;
    default:
        g_error("child said %s", line);
    }
}

// Hears at least `least` lines, or, when that is G_MAXUINT, all there are to the end.
static void
hear(Known *known, int pipe, GString *text, guint least)
{
    char buffer[4096];
    guint heard = 0;
    while (heard < least) {
        gssize n = read(pipe, buffer, sizeof buffer);
        if (n < 0 && errno == EINTR)
            continue;
        if (n <= 0)
            return;
        g_string_append_len(text, buffer, n);
        for (char *end; (end = strchr(text->str, '\n')); heard++) {
            *end = '\0';
            hear_line(known, text->str);
            g_string_erase(text, 0, end - text->str + 1);
        }
    }
}

// Lets the child tell a few lines, then a little more time, and kills it wherever that is.
static void
run_and_kill(Known *known, GRand *rand)
{
    int ends[2], status = 0;
    guint32 seed = g_rand_int(rand);
    g_autoptr(GString) text = g_string_new(NULL);
    g_assert_cmpint(pipe(ends), ==, 0);
    pid_t child = fork();
    g_assert_cmpint(child, >=, 0);
    if (child == 0) {
        close(ends[0]);
        work(ends[1], seed);
        _exit(0);
    }
    close(ends[1]);
    hear(known, ends[0], text, (guint)g_rand_int_range(rand, 0, 9));
    g_usleep((gulong)g_rand_int_range(rand, 0, 6000));
    kill(child, SIGKILL);
    hear(known, ends[0], text, G_MAXUINT);
    close(ends[0]);
    g_assert_cmpint(waitpid(child, &status, 0), ==, child);
    g_assert_true(WIFSIGNALED(status));
    g_assert_cmpint(WTERMSIG(status), ==, SIGKILL);
}

// What was told is there, in order; at most one line more, kept but not yet told.
static void
check_journal(Known *known)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(Live) live = live_resume(book_path, &error);
    g_assert_no_error(error);
    const LiveLines *lines = live_journal_lines(live_journal(live));
    if (g_strcmp0(live_sheet(live)->id, known->day) != 0) {
        // The old one was put aside and this started, or this is the first, and we were not told.
        g_assert_true(known->day == NULL || known->logged);
        hear_line(known, "P");
        known->day = g_strdup(live_sheet(live)->id);
        known->logged = FALSE;
    }
    g_assert_cmpuint(lines->nodes->len, >=, 1 + known->lines->len);
    g_assert_cmpuint(lines->nodes->len, <=, 2 + known->lines->len);
    g_assert_cmpuint(lines->faults->len, <=, lines->lines - lines->nodes->len);
    for (guint i = 0; i < known->lines->len; i++) {
        g_autofree char *line = store_line(lines->nodes->pdata[i + 1]);
        g_assert_cmpstr(line, ==, known->lines->pdata[i]);
    }
    g_assert_cmpuint(live_day(live)->strange->len, ==, 0);
    if (lines->nodes->len == 2 + known->lines->len)
        g_ptr_array_add(known->lines, store_line(lines->nodes->pdata[1 + known->lines->len]));
}

static void
check_book(Known *known)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(Book) book = store_read(book_path, tables, &error);
    g_assert_no_error(error);
    const char *name = node_text(node_get(book_root(book), "/shop/name"));
    g_assert_true(g_str_has_prefix(name, "shop "));
    guint number = (guint)g_ascii_strtoull(name + strlen("shop "), NULL, 10);
    g_assert_cmpuint(number, >=, known->number);
    g_assert_cmpuint(number, <=, known->number + 1);
    known->number = number;
    g_assert_cmpuint(live_log_sessions(book), >=, known->days);
    g_assert_cmpuint(live_log_sessions(book), <=, known->days + 1);
    if (known->logged && known->day)
        g_assert_cmpint(live_log_find(book, known->day), >=, 0);
    known->days = live_log_sessions(book);
    // A journal that is gone was logged.
    if (live_journal_exists(book_path))
        check_journal(known);
    else if (known->day)
        g_assert_cmpint(live_log_find(book, known->day), >=, 0);
    known->logged = known->day && live_log_find(book, known->day) >= 0;
}

static void
test_kill(void)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(Book) ready = book_new_ready();
    g_autoptr(Node) name = node_new_text("shop 0");
    g_autoptr(Edit) edit = edit_set("/shop/name", name, "x");
    g_autoptr(Book) book = edit_apply(ready, edit, &error);
    g_assert_true(store_write(book, book_path, FALSE, &error));
    g_assert_no_error(error);
    g_autoptr(GRand) rand = g_rand_new_with_seed(77117);
    Known known = {.lines = g_ptr_array_new_with_free_func(g_free)};
    for (int i = 0; i < KILLS; i++) {
        run_and_kill(&known, rand);
        check_book(&known);
    }
    g_test_message("%d kills, %u ticks told and found, %u days logged", KILLS, known.ticks,
                   known.days);
    g_assert_cmpuint(known.ticks, >, KILLS);
    g_ptr_array_unref(known.lines);
    g_free(known.day);
}

int
main(int argc, char **argv)
{
    g_autofree char *folder = check_folder();
    g_setenv("XDG_DATA_HOME", folder, TRUE);
    g_test_init(&argc, &argv, NULL);
    g_autoptr(GError) error = NULL;
    g_autoptr(Tables) loaded = tables_load(&error);
    g_assert_no_error(error);
    tables = loaded;
    book_path = g_build_filename(folder, "shop.castbook", NULL);
    g_test_add_func("/live/kill/anywhere", test_kill);
    int code = g_test_run();
    g_free(book_path);
    check_folder_remove(folder);
    return code;
}
