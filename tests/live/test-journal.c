// SPDX-License-Identifier: GPL-3.0-or-later
// The journal: cut at every byte, damaged at every byte, written to a disk that fails at every
// call, held by one program at a time.
#include "live/journal.h"

#include <errno.h>
#include <glib/gstdio.h>
#include <string.h>

#include "book/store-hook.h"
#include "check.h"
#include "sample.h"

typedef struct {
    char *folder, *path;
} Fixture;

static void
set_up(Fixture *f, gconstpointer data)
{
    f->folder = check_folder();
    f->path = sample_journal(f->folder, 1);
}

static void
tear_down(Fixture *f, gconstpointer data)
{
    store_fail_hook = NULL;
    check_folder_remove(f->folder);
    g_free(f->folder);
    g_free(f->path);
}

static LiveJournal *
open_journal(Fixture *f)
{
    g_autoptr(GError) error = NULL;
    LiveJournal *journal = live_journal_open(f->path, &error);
    g_assert_no_error(error);
    return journal;
}

static void
add(LiveJournal *journal, const char *key)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(Node) node = sample_tick("done", key, SAMPLE_START + 7);
    g_assert_true(live_journal_add(journal, node, &error));
    g_assert_no_error(error);
}

static const char *
key_of(const LiveLines *lines, guint i)
{
    g_assert_cmpuint(i, <, lines->nodes->len);
    return node_text(node_member(lines->nodes->pdata[i], "key"));
}

static void
test_survives(Fixture *f, gconstpointer data)
{
    g_autofree char *words = g_strdup("pour-1 \"\\\n\t€");
    LiveJournal *journal = open_journal(f);
    add(journal, "set-up");
    add(journal, words);
    live_journal_close(journal);
    journal = open_journal(f);
    const LiveLines *lines = live_journal_lines(journal);
    g_assert_cmpuint(lines->nodes->len, ==, 3);
    g_assert_cmpuint(lines->faults->len, ==, 0);
    g_assert_cmpstr(key_of(lines, 1), ==, "set-up");
    g_assert_cmpstr(key_of(lines, 2), ==, words);
    live_journal_close(journal);
}

// What was never whole is dropped and told; all before it is there; what is added after it too.
static void
test_cut_at_every_byte(Fixture *f, gconstpointer data)
{
    LiveJournal *journal = open_journal(f);
    add(journal, "set-up");
    add(journal, "ram-1");
    add(journal, "ram-2");
    live_journal_close(journal);
    g_autofree char *bytes = NULL;
    gsize length = 0;
    g_assert_true(g_file_get_contents(f->path, &bytes, &length, NULL));
    gsize first = (gsize)(strchr(bytes, '\n') - bytes) + 1;
    for (gsize cut = first; cut <= length; cut++) {
        guint whole = 0;
        for (gsize i = 0; i < cut; i++)
            whole += bytes[i] == '\n' || (i + 1 == cut && cut < length && bytes[cut] == '\n');
        gboolean torn = cut < length && bytes[cut] != '\n' && bytes[cut - 1] != '\n';
        g_assert_true(g_file_set_contents(f->path, bytes, (gssize)cut, NULL));
        journal = open_journal(f);
        const LiveLines *lines = live_journal_lines(journal);
        g_assert_cmpuint(lines->nodes->len, ==, whole);
        g_assert_cmpuint(lines->faults->len, ==, torn);
        add(journal, "pour-1");
        live_journal_close(journal);
        journal = open_journal(f);
        lines = live_journal_lines(journal);
        g_assert_cmpuint(lines->nodes->len, ==, whole + 1);
        g_assert_cmpuint(lines->faults->len, ==, torn);
        g_assert_cmpstr(key_of(lines, whole), ==, "pour-1");
        live_journal_close(journal);
    }
}

// One changed byte costs its own line and no other, and never changes what a line says.
static void
test_damage_at_every_byte(Fixture *f, gconstpointer data)
{
    LiveJournal *journal = open_journal(f);
    add(journal, "set-up");
    add(journal, "ram-1");
    live_journal_close(journal);
    g_autofree char *bytes = NULL;
    gsize length = 0;
    g_assert_true(g_file_get_contents(f->path, &bytes, &length, NULL));
    gsize first = (gsize)(strchr(bytes, '\n') - bytes) + 1;
    for (gsize i = first; i < length; i++) {
        char kept = bytes[i];
        bytes[i] = (char)(kept ^ 0x15);
        g_autoptr(LiveLines) lines = live_lines_read(bytes, length);
        gboolean end = kept == '\n', last = i + 1 == length;
        // Without its end a line runs into the next, and both are lost; the last is merely unended.
        g_assert_cmpuint(lines->nodes->len, ==, end && !last ? 1 : 2);
        g_assert_cmpuint(lines->faults->len, >=, 1);
        for (guint k = 1; k < lines->nodes->len; k++)
            g_assert_true(g_str_equal(key_of(lines, k), "set-up") ||
                          g_str_equal(key_of(lines, k), "ram-1"));
        bytes[i] = kept;
    }
}

static int calls_left = 0;

static int
fail_nth(const char *call)
{
    if (calls_left > 0)
        calls_left--;
    return calls_left == 0 ? ENOSPC : 0;
}

// A full disk refuses the tick with words; what was there before stays, and the next is kept.
static void
test_full_disk(Fixture *f, gconstpointer data)
{
    LiveJournal *journal = open_journal(f);
    add(journal, "set-up");
    for (int n = 1; n <= 2; n++) {
        g_autoptr(GError) error = NULL;
        g_autoptr(Node) node = sample_tick("done", "ram-1", SAMPLE_START);
        calls_left = n;
        store_fail_hook = fail_nth;
        g_assert_false(live_journal_add(journal, node, &error));
        check_error(error, BASE_ERROR_FILE, "cannot be written");
        store_fail_hook = NULL;
        g_assert_cmpuint(live_journal_lines(journal)->nodes->len, ==, 2);
    }
    add(journal, "ram-2");
    live_journal_close(journal);
    journal = open_journal(f);
    g_assert_cmpuint(live_journal_lines(journal)->nodes->len, ==, 3);
    g_assert_cmpstr(key_of(live_journal_lines(journal), 2), ==, "ram-2");
    live_journal_close(journal);
}

// Starting is whole or not at all, whichever call fails.
static void
test_start_fails(Fixture *f, gconstpointer data)
{
    static const int calls = 4; // open, write, sync, rename
    g_autofree char *path = g_build_filename(f->folder, "new.day", NULL);
    g_autoptr(Node) node = sample_tick("start", NULL, 1);
    for (int n = 1; n <= calls; n++) {
        g_autoptr(GError) error = NULL;
        calls_left = n;
        store_fail_hook = fail_nth;
        g_assert_null(live_journal_start(path, node, &error));
        store_fail_hook = NULL;
        check_error(error, BASE_ERROR_FILE, "cannot be written");
        g_assert_false(g_file_test(path, G_FILE_TEST_EXISTS));
    }
    g_autoptr(GDir) dir = g_dir_open(f->folder, 0, NULL);
    g_assert_cmpstr(g_dir_read_name(dir), ==, "sample.day");
    g_assert_null(g_dir_read_name(dir));
}

static void
test_refuses(Fixture *f, gconstpointer data)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(Node) node = sample_tick("start", NULL, 1);
    g_assert_null(live_journal_start(f->path, node, &error));
    check_error(error, BASE_ERROR_FILE, "going on already");
    LiveJournal *journal = open_journal(f);
    g_assert_null(live_journal_open(f->path, &error));
    check_error(error, BASE_ERROR_FILE, "another window");
    // Deleted or replaced under our hands: a tick must not vanish with it.
    g_assert_cmpint(g_unlink(f->path), ==, 0);
    g_assert_false(live_journal_add(journal, node, &error));
    check_error(error, BASE_ERROR_FILE, "cannot be written");
    g_assert_true(g_file_set_contents(f->path, "other\n", -1, NULL));
    g_assert_false(live_journal_add(journal, node, &error));
    check_error(error, BASE_ERROR_FILE, "cannot be written");
    live_journal_close(journal);
    g_assert_null(live_journal_open(f->path, &error));
    check_error(error, BASE_ERROR_FORMAT, "not one line");
    g_assert_null(live_journal_open(f->folder, &error));
    check_error(error, BASE_ERROR_FILE, f->folder);
    g_autofree char *none = g_build_filename(f->folder, "none", NULL);
    g_assert_null(live_journal_open(none, &error));
    check_error(error, BASE_ERROR_FILE, "no day of this book");
    live_journal_close(NULL);
}

static void
test_moves(Fixture *f, gconstpointer data)
{
    g_autoptr(GError) error = NULL;
    g_autofree char *to = g_build_filename(f->folder, "to.day", NULL);
    g_autofree char *taken = g_build_filename(f->folder, "taken.day", NULL);
    g_assert_true(g_file_set_contents(taken, "mine", -1, NULL));
    LiveJournal *journal = open_journal(f);
    g_assert_true(live_journal_move(journal, f->path, &error));
    g_assert_true(live_journal_move(journal, to, &error));
    g_assert_no_error(error);
    add(journal, "set-up");
    g_assert_false(live_journal_move(journal, taken, &error));
    check_error(error, BASE_ERROR_FILE, "taken.day");
    g_assert_cmpstr(live_journal_file(journal), ==, to);
    live_journal_close(journal);
    g_assert_false(g_file_test(f->path, G_FILE_TEST_EXISTS));
    g_free(f->path);
    f->path = g_steal_pointer(&to);
    journal = open_journal(f);
    g_assert_cmpuint(live_journal_lines(journal)->nodes->len, ==, 2);
    live_journal_close(journal);
}

static void
test_any_bytes(void)
{
    static const char *const texts[] = {
        "", "\n", "\n\n\n", "0123456789abcdef ", "x\ny", "0123456789abcdef {}\n"};
    static const guint faults[] = {0, 0, 0, 1, 2, 1};
    for (guint i = 0; i < G_N_ELEMENTS(texts); i++) {
        g_autoptr(LiveLines) lines = live_lines_read(texts[i], strlen(texts[i]));
        g_assert_cmpuint(lines->nodes->len, ==, 0);
        g_assert_cmpuint(lines->faults->len, ==, faults[i]);
    }
    g_autoptr(Node) node = sample_tick("done", "a", 1.5);
    g_autofree char *line = live_line_make(node);
    g_autoptr(LiveLines) lines = live_lines_read(line, strlen(line));
    g_assert_true(node_equal(lines->nodes->pdata[0], node));
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
#define ADD(name, function)                                                                        \
    g_test_add("/live/journal/" name, Fixture, NULL, set_up, function, tear_down)
    ADD("survives", test_survives);
    ADD("cut-at-every-byte", test_cut_at_every_byte);
    ADD("damage-at-every-byte", test_damage_at_every_byte);
    ADD("full-disk", test_full_disk);
    ADD("start-fails", test_start_fails);
    ADD("refuses", test_refuses);
    ADD("moves", test_moves);
    g_test_add_func("/live/journal/any-bytes", test_any_bytes);
    return g_test_run();
}
