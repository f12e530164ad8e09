// SPDX-License-Identifier: GPL-3.0-or-later
// The day in the window: started, ticked by button and key, taken back, late in word and class,
// values noted, gone on with after the window is gone, finished into the log; and the castings
// judged.
#include <string.h>

#include "book/log-members.h"
#include "book/store.h"
#include "check.h"
#include "live/clock.h"
#include "live/log.h"
#include "stage-hand.h"
#include "window/live-page.h"
#include "window/live-past.h"
#include "window/notice.h"
#include "window/result-page.h"
#include "window/result-row.h"

typedef struct {
    Desk *desk;
    GtkWidget *window, *page;
    char *folder, *book;
} Fixture;

static double shown = 0;

static double
show_clock(gpointer data)
{
    return shown;
}

static void
open_window(Fixture *f)
{
    f->desk = desk_new(hand_tables());
    f->window = GTK_WIDGET(hand_open(f->desk, f->book));
    f->page = hand_find(f->window, FW_TYPE_LIVE_PAGE, NULL, NULL);
}

static void
close_window(Fixture *f)
{
    hand_close(FW_WINDOW(f->window));
    g_clear_object(&f->desk);
}

// A book of its own of one small job, so that the plan is quick.
static void
set_up(Fixture *f, gconstpointer data)
{
    static const char *const names[] = {"loom-hardware.castbook", "pawl.stl", "treadle-bracket.stl",
                                        "pulley-hanger.stl"};
    g_autofree char *demo = hand_demo();
    g_autofree char *from = g_path_get_dirname(demo);
    f->folder = check_folder();
    for (guint i = 0; i < G_N_ELEMENTS(names); i++) {
        g_autofree char *source = g_build_filename(from, names[i], NULL);
        g_autofree char *target = g_build_filename(f->folder, names[i], NULL);
        g_autofree char *bytes = NULL;
        gsize length = 0;
        g_assert_true(g_file_get_contents(source, &bytes, &length, NULL));
        g_assert_true(g_file_set_contents(target, bytes, (gssize)length, NULL));
    }
    f->book = g_build_filename(f->folder, names[0], NULL);
    shown = 1761461100; // 2025-10-26T06:45:00Z
    live_clock_set(show_clock, NULL);
    open_window(f);
}

static void
tear_down(Fixture *f, gconstpointer data)
{
    close_window(f);
    live_clock_set(NULL, NULL);
    check_folder_remove(f->folder);
    g_free(f->folder);
    g_free(f->book);
}

static void
activate(Fixture *f, const char *action)
{
    g_assert_true(gtk_widget_activate_action(f->window, action, NULL));
    hand_turn(60);
}

static gboolean
label_has(GtkWidget *widget, gconstpointer words)
{
    return gtk_widget_get_mapped(widget) && strstr(gtk_label_get_text(GTK_LABEL(widget)), words);
}

static GtkWidget *
find_words(Fixture *f, const char *words)
{
    return hand_find(f->window, GTK_TYPE_LABEL, label_has, words);
}

// The page shows the clock of the test within a second.
static void
wait_words(Fixture *f, const char *words)
{
    for (int i = 0; i < 60 && !find_words(f, words); i++)
        hand_turn(50);
    g_test_message("\"%s\"", words);
    g_assert_nonnull(find_words(f, words));
}

static const LiveDay *
day_of(Fixture *f)
{
    g_assert_nonnull(fw_live_page_live(FW_LIVE_PAGE(f->page)));
    return live_day(fw_live_page_live(FW_LIVE_PAGE(f->page)));
}

static LiveState
state_of(Fixture *f, const char *key)
{
    const LiveTask *task = live_day_find(day_of(f), key);
    g_assert_nonnull(task);
    return task->state;
}

static gboolean
is_named(GtkWidget *widget, gconstpointer label)
{
    const char *own = gtk_button_get_label(GTK_BUTTON(widget));
    return gtk_widget_get_mapped(widget) && g_strcmp0(own, label) == 0;
}

static void
press(Fixture *f, const char *label)
{
    GtkWidget *button = hand_find(f->window, GTK_TYPE_BUTTON, is_named, label);
    g_test_message("press %s", label);
    g_assert_nonnull(button);
    g_assert_true(gtk_widget_is_sensitive(button));
    g_signal_emit_by_name(button, "clicked");
    hand_turn(60);
}

// The book has several jobs still to cast: the day of the one in hand, or of all.
static void
choose(Fixture *f, const char *words)
{
    GtkWidget *label = find_words(f, words);
    g_assert_nonnull(label);
    GtkWidget *button = gtk_widget_get_ancestor(label, GTK_TYPE_BUTTON);
    g_assert_true(gtk_widget_is_sensitive(button));
    g_signal_emit_by_name(button, "clicked");
    hand_turn(60);
}

static void
start_job(Fixture *f)
{
    activate(f, "win.start-day");
    choose(f, "This job: ");
}

static void
tick(Fixture *f)
{
    fw_live_page_tick(FW_LIVE_PAGE(f->page));
    hand_turn(60);
}

// Ticks until the task is done, minute by minute.
static void
tick_until(Fixture *f, const char *key)
{
    for (int i = 0; i < 100 && state_of(f, key) != LIVE_OVER; i++) {
        shown += 60;
        tick(f);
    }
    g_assert_cmpint(state_of(f, key), ==, LIVE_OVER);
}

static int
size_of(GtkWidget *label)
{
    int height = 0;
    gtk_widget_measure(label, GTK_ORIENTATION_VERTICAL, -1, &height, NULL, NULL, NULL);
    return height;
}

static void
test_ticks(Fixture *f, gconstpointer data)
{
    press(f, "Start the day");
    choose(f, "This job: ");
    wait_words(f, "now, 20:00 left");
    g_assert_nonnull(find_words(f, "Set up"));
    // Legible from two metres: no smaller than 60 px at 1280 by 800.
    hand_turn(200);
    g_assert_cmpint(gtk_widget_get_width(f->window), <=, 1280);
    g_assert_cmpint(size_of(find_words(f, "now, 20:00 left")), >=, 60);
    // Sound is off.
    GtkWidget *sound = hand_find(f->page, GTK_TYPE_CHECK_BUTTON, NULL, NULL);
    g_assert_false(gtk_check_button_get_active(GTK_CHECK_BUTTON(sound)));
    // The large button has the focus, so a key ticks.
    GtkWidget *focus = gtk_root_get_focus(GTK_ROOT(f->window));
    g_assert_true(GTK_IS_BUTTON(focus) && gtk_widget_is_ancestor(focus, f->page));
    g_assert_true(gtk_widget_activate(focus));
    hand_turn(500); // a button shown pressed for a moment
    g_assert_cmpint(state_of(f, "set-up"), ==, LIVE_OVER);
    wait_words(f, "Begin: Ram drag 1");
    activate(f, "win.undo");
    g_assert_cmpint(state_of(f, "set-up"), ==, LIVE_TO_DO);
    g_assert_false(g_action_group_get_action_enabled(G_ACTION_GROUP(f->window), "undo"));
    shown += 21 * 60 + 5;
    wait_words(f, "late by 1:0");
    GtkWidget *late = find_words(f, "late by 1:0");
    g_assert_true(gtk_widget_has_css_class(late, "late"));
    tick(f);
    g_assert_false(gtk_widget_has_css_class(late, "late"));
    wait_words(f, "min late");
    wait_words(f, "later than planned");
    wait_words(f, "Sand dust");
    press(f, "Undo tick");
    g_assert_cmpint(state_of(f, "set-up"), ==, LIVE_TO_DO);
    activate(f, "win.back-to-plan");
    g_assert_nonnull(find_words(f, "Session timeline"));
    press(f, "Today");
    g_assert_nonnull(find_words(f, "Set up"));
}

static void
enter(Fixture *f, const char *hint, const char *text, gboolean mass)
{
    gboolean found = FALSE;
    for (GtkWidget *child = gtk_widget_get_first_child(gtk_widget_get_parent(find_words(f, hint)));
         child; child = gtk_widget_get_next_sibling(child))
        if (GTK_IS_ENTRY(child) && gtk_widget_get_visible(child) && mass-- == 0) {
            gtk_editable_set_text(GTK_EDITABLE(child), text);
            found = TRUE;
        }
    g_assert_true(found);
}

static void
test_values(Fixture *f, gconstpointer data)
{
    start_job(f);
    tick_until(f, "charge-1");
    wait_words(f, "Charge load 1, done");
    enter(f, "Charge load 1, done", "2.7 kg", FALSE);
    press(f, "Note");
    g_assert_cmpstr(live_day_find(day_of(f), "charge-1")->mass_text, ==, "2.7 kg");
    press(f, "Molten");
    g_assert_cmpint(state_of(f, "melt-1"), ==, LIVE_OVER);
    tick_until(f, "pour-1");
    enter(f, "Pour mould 1, done", "hot", FALSE);
    press(f, "Note");
    wait_words(f, "pour-1");
    g_assert_true(isnan(live_day_find(day_of(f), "pour-1")->temperature));
    enter(f, "Pour mould 1, done", "690", FALSE);
    enter(f, "Pour mould 1, done", "1.1", TRUE);
    press(f, "Note");
    g_assert_cmpstr(live_day_find(day_of(f), "pour-1")->temperature_text, ==, "690 °C");
    g_assert_cmpstr(live_day_find(day_of(f), "pour-1")->mass_text, ==, "1.1 kg");
    wait_words(f, "look for misruns");
}

// The window is gone without a word; the next one offers the day, with every tick.
static void
test_goes_on(Fixture *f, gconstpointer data)
{
    start_job(f);
    tick_until(f, "ram-drag-1");
    guint ticks = day_of(f)->ticks;
    close_window(f);
    open_window(f);
    g_autofree char *words = g_strdup_printf("All its %u ticks are kept", ticks);
    wait_words(f, words);
    press(f, "Go on with the day");
    g_assert_cmpuint(day_of(f)->ticks, ==, ticks);
    g_assert_cmpint(state_of(f, "ram-drag-1"), ==, LIVE_OVER);
    // A second window may not tick the same day.
    g_autoptr(GError) error = NULL;
    g_assert_null(live_resume(f->book, &error));
    check_error(error, BASE_ERROR_FILE, "another window");
    // Another book leaves the day, which stays.
    g_autofree char *other = g_build_filename(f->folder, "other.castbook", NULL);
    g_autoptr(Book) ready = book_new_ready();
    g_assert_true(store_write(ready, other, FALSE, NULL));
    g_assert_true(fw_window_open(FW_WINDOW(f->window), other));
    hand_turn(60);
    g_assert_null(fw_live_page_live(FW_LIVE_PAGE(f->page)));
    g_assert_true(live_journal_exists(f->book));
    g_autoptr(Live) live = live_resume(f->book, &error);
    g_assert_no_error(error);
    g_assert_cmpuint(live_day(live)->ticks, ==, ticks);
}

static guint rows_left = 0;

static gboolean
is_turn(GtkWidget *widget, gconstpointer data)
{
    return rows_left-- == 0;
}

static GtkWidget *
find_row(Fixture *f, guint place)
{
    rows_left = place;
    GtkWidget *row = hand_find(f->window, FW_TYPE_RESULT_ROW, is_turn, NULL);
    g_assert_nonnull(row);
    return row;
}

static void
press_in(GtkWidget *row, const char *label)
{
    GtkWidget *button = hand_find(row, GTK_TYPE_TOGGLE_BUTTON, is_named, label);
    g_assert_nonnull(button);
    g_signal_emit_by_name(button, "clicked");
    hand_turn(60);
}

static void
test_results(Fixture *f, gconstpointer data)
{
    start_job(f);
    tick_until(f, "pour-1");
    press(f, "Finish the day");
    hand_turn(200);
    // The book was clean, so it is saved with the day in it, and the journal is put aside.
    g_assert_false(desk_is_dirty(f->desk));
    g_assert_false(live_journal_exists(f->book));
    g_assert_null(fw_live_page_live(FW_LIVE_PAGE(f->page)));
    g_autoptr(GError) error = NULL;
    g_autoptr(Book) saved = store_read(f->book, hand_tables(), &error);
    g_assert_no_error(error);
    guint session = live_log_sessions(saved) - 1;
    g_autoptr(GArray) castings = live_log_castings(saved, session);
    g_assert_cmpuint(castings->len, >=, 2);
    g_autofree char *open = g_strdup_printf("0 good, 0 scrap, %u to judge", castings->len);
    wait_words(f, open);
    wait_words(f, "planned");
    GtkWidget *row = find_row(f, 0);
    press_in(row, "Scrap");
    GtkWidget *cause = hand_find(row, GTK_TYPE_DROP_DOWN, NULL, NULL);
    g_assert_true(gtk_widget_is_sensitive(cause));
    gtk_drop_down_set_selected(GTK_DROP_DOWN(cause), 3);
    hand_turn(60);
    press_in(find_row(f, 1), "Good");
    GtkWidget *mass = hand_find(find_row(f, 1), GTK_TYPE_ENTRY, NULL, NULL);
    gtk_editable_set_text(GTK_EDITABLE(mass), "12 mm");
    g_signal_emit_by_name(mass, "activate");
    hand_turn(60);
    g_assert_true(gtk_widget_has_css_class(mass, "error"));
    gtk_editable_set_text(GTK_EDITABLE(mass), "141 g");
    g_signal_emit_by_name(mass, "activate");
    hand_turn(60);
    g_assert_false(gtk_widget_has_css_class(mass, "error"));
    wait_words(f, "1 good, 1 scrap");
    g_autoptr(GArray) judged = live_log_castings(desk_book(f->desk), session);
    const LiveCasting *bad = &g_array_index(judged, LiveCasting, 0);
    const LiveCasting *good = &g_array_index(judged, LiveCasting, 1);
    g_assert_cmpstr(bad->cause, ==, log_cause_at(2)->id);
    g_assert_true(good->judged && good->good);
    g_assert_cmpstr(good->mass, ==, "141 g");
    // Judging is undone like any edit, and pressing again takes it back.
    activate(f, "win.undo");
    g_autoptr(GArray) undone = live_log_castings(desk_book(f->desk), session);
    g_assert_null(g_array_index(undone, LiveCasting, 1).mass);
    press_in(find_row(f, 1), "Good");
    wait_words(f, "0 good, 1 scrap");
    hand_wait_settled(FW_WINDOW(f->window));
}

static gboolean
has_label(const Live *live, const char *words)
{
    for (guint i = 0; i < live_day(live)->n_tasks; i++)
        if (strstr(live_day(live)->tasks[i].task->label, words))
            return TRUE;
    return FALSE;
}

// The task with this key names the job, by its name: "Pulley hanger" of "pulley-hanger".
static gboolean
is_of_job(const Live *live, const char *key, const char *job)
{
    g_autofree char *name = g_strdup(job);
    g_strdelimit(name, "-", ' ');
    for (guint i = 0; i < live_day(live)->n_tasks; i++) {
        const SessionTask *task = live_day(live)->tasks[i].task;
        g_autofree char *label = g_ascii_strdown(task->label, -1);
        if (g_strcmp0(task->key, key) == 0)
            return strstr(label, name) != NULL;
    }
    return FALSE;
}

// What the calendar pours next is worked as one day: each mould says whose it is, and castings are
// judged under their own job.
static void
test_all_jobs(Fixture *f, gconstpointer data)
{
    // So few brackets that one day has room for hangers too.
    g_assert_true(desk_edit_field(f->desk, "job.quantity", "24", NULL));
    hand_wait_settled(FW_WINDOW(f->window));
    press(f, "Start the day");
    g_assert_nonnull(find_words(f, "All jobs, by the calendar"));
    activate(f, "win.back-to-plan"); // nothing was started
    g_assert_false(live_journal_exists(f->book));
    press(f, "Start the day");
    choose(f, "All jobs, by the calendar");
    for (int i = 0; i < 1200 && !fw_live_page_live(FW_LIVE_PAGE(f->page)); i++)
        hand_turn(50);
    const Live *live = fw_live_page_live(FW_LIVE_PAGE(f->page));
    g_assert_nonnull(live);
    const LiveSheet *sheet = live_sheet(live);
    g_assert_cmpuint(sheet->n_jobs, >=, 2);
    g_assert_true(has_label(live, ": Treadle bracket"));
    g_assert_true(has_label(live, ": Pulley hanger"));
    tick_until(f, "set-up");
    wait_words(f, "Begin: Ram drag 1: Treadle bracket");
    g_autofree char *last = g_strdup_printf("pour-%d", sheet->session->flasks);
    tick_until(f, last);
    g_autofree char *of = NULL;
    for (guint i = 0; i < sheet->n_jobs; i++)
        if (is_of_job(live, last, sheet->jobs[i].id))
            of = g_strdup(sheet->jobs[i].id);
    g_assert_nonnull(of);
    press(f, "Finish the day");
    hand_turn(200);
    wait_words(f, "Flask 1: Treadle bracket");
    guint session = live_log_sessions(desk_book(f->desk)) - 1;
    g_autoptr(GArray) castings = live_log_castings(desk_book(f->desk), session);
    g_assert_cmpstr(g_array_index(castings, LiveCasting, castings->len - 1).job, ==, of);
    hand_wait_settled(FW_WINDOW(f->window));
}

// What a typed time changes is in the journal, and undo takes it back.
static void
test_correction(Fixture *f, gconstpointer data)
{
    start_job(f);
    shown += 30 * 60; // 07:15
    tick(f);
    GtkWidget *list = hand_find(f->page, FW_TYPE_LIVE_PAST, NULL, NULL);
    GtkWidget *button = hand_find(list, GTK_TYPE_MENU_BUTTON, NULL, NULL);
    gtk_menu_button_popup(GTK_MENU_BUTTON(button));
    hand_turn(200);
    GtkWidget *entry = hand_find(list, GTK_TYPE_ENTRY, NULL, NULL);
    g_assert_cmpstr(gtk_editable_get_text(GTK_EDITABLE(entry)), ==, "07:15");
    gtk_editable_set_text(GTK_EDITABLE(entry), "07:70");
    g_signal_emit_by_name(entry, "activate");
    g_assert_true(gtk_widget_has_css_class(entry, "error"));
    check_close(live_day_find(day_of(f), "set-up")->end, 1800, 0, "as ticked");
    gtk_editable_set_text(GTK_EDITABLE(entry), "07:09");
    g_signal_emit_by_name(entry, "activate");
    hand_turn(60);
    g_assert_false(gtk_widget_has_css_class(entry, "error"));
    check_close(live_day_find(day_of(f), "set-up")->end, 24 * 60, 0, "07:09 less 06:45");
    fw_live_page_undo(FW_LIVE_PAGE(f->page));
    hand_turn(60);
    check_close(live_day_find(day_of(f), "set-up")->end, 1800, 0, "as ticked");
    g_assert_cmpstr(gtk_editable_get_text(GTK_EDITABLE(entry)), ==, "07:15");
}

// No day is started before there is a plan, and the button says why.
static void
test_waits_for_plan(Fixture *f, gconstpointer data)
{
    GtkWidget *button = hand_find(f->window, GTK_TYPE_BUTTON, is_named, "Start the day");
    g_assert_true(gtk_widget_is_sensitive(button));
    g_assert_true(desk_edit_field(f->desk, "job.allowance", "2.9 mm", NULL));
    hand_turn(1);
    g_assert_true(desk_is_busy(f->desk));
    g_assert_false(gtk_widget_is_sensitive(button));
    g_assert_nonnull(strstr(gtk_widget_get_tooltip_text(button), "still being worked out"));
    hand_wait_settled(FW_WINDOW(f->window));
    g_assert_true(gtk_widget_is_sensitive(button));
}

// A book with other changes is not saved behind the person's back: the journal waits for it.
static void
test_dirty_book(Fixture *f, gconstpointer data)
{
    g_autoptr(GError) error = NULL;
    start_job(f);
    tick(f);
    g_assert_true(desk_edit_field(f->desk, "job.allowance", "2.7 mm", &error));
    g_assert_true(fw_live_page_finish(FW_LIVE_PAGE(f->page)));
    g_assert_true(desk_is_dirty(f->desk));
    g_assert_true(live_journal_exists(f->book));
    activate(f, "win.start-day");
    wait_words(f, "The day is finished");
    activate(f, "win.undo"); // the log has it: said, not done
    wait_words(f, "Take that back first");
    g_assert_true(day_of(f)->finished);
    g_assert_true(desk_save(f->desk, &error));
    g_assert_no_error(error);
    hand_turn(100);
    g_assert_false(live_journal_exists(f->book));
    g_assert_null(fw_live_page_live(FW_LIVE_PAGE(f->page)));
    hand_wait_settled(FW_WINDOW(f->window));
}

int
main(int argc, char **argv)
{
    g_setenv("TZ", "UTC", TRUE);
    hand_init(&argc, &argv);
#define ADD(name, function)                                                                        \
    g_test_add("/window/live/" name, Fixture, NULL, set_up, function, tear_down)
    ADD("ticks", test_ticks);
    ADD("values", test_values);
    ADD("goes-on", test_goes_on);
    ADD("results", test_results);
    ADD("dirty-book", test_dirty_book);
    ADD("all-jobs", test_all_jobs);
    ADD("correction", test_correction);
    ADD("waits-for-plan", test_waits_for_plan);
    return hand_run();
}
