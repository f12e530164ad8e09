// SPDX-License-Identifier: GPL-3.0-or-later
// Journals of strangers. Any bytes give lines and words on the rest; a sheet that is read is
// written and read alike; and any ticks make a day that can be gone on with and logged.
#include "corpus.h"

#include <string.h>

#include "book/scan.h"
#include "live/log.h"
#include "live/next.h"
#include "live/shift.h"

static void
use_day(const LiveSheet *sheet, const LiveLines *lines)
{
    UnitSet units = unit_set_default();
    g_autoptr(LiveDay) day = live_day_make(sheet, lines);
    g_autoptr(SessionResult) rest = live_replan(day, 4321, NULL, NULL);
    g_autoptr(GArray) hands = live_actions(day, rest, rest, FALSE);
    g_autoptr(GArray) furnaces = live_actions(day, rest, rest, TRUE);
    g_autoptr(GPtrArray) warnings = live_warnings(day, rest, 4321, &units);
    g_autoptr(Node) session = live_log_session(day);
    g_assert_nonnull(session);
    g_assert_cmpuint(furnaces->len + hands->len, <=, day->n_tasks);
    g_assert_cmpuint(warnings->len, <=, day->n_tasks + 2);
    for (guint i = 0; i < hands->len; i++)
        g_free(live_action_countdown(&g_array_index(hands, LiveAction, i), 4321));
}

// The bytes are taken twice: as they are, and, since a check is not hit upon by chance, each line
// given its check first.
static void
try_lines(const char *bytes, gsize size, gboolean check)
{
    g_autoptr(GString) text = g_string_new(NULL);
    g_autofree char *copy = g_strndup(bytes, size);
    g_auto(GStrv) parts = g_strsplit(copy, "\n", -1);
    for (char **part = parts; check && *part; part++) {
        g_autoptr(Node) node = scan_text(*part, strlen(*part), "fuzz", 32, NULL);
        g_autofree char *line = node_kind(node) == NODE_OBJECT ? live_line_make(node) : NULL;
        g_string_append(text, line ? line : *part);
    }
    if (!check)
        g_string_append_len(text, bytes, (gssize)size);
    g_autoptr(LiveLines) lines = live_lines_read(text->str, text->len);
    g_assert_cmpuint(lines->nodes->len + lines->faults->len, <=, lines->lines);
    if (lines->nodes->len == 0)
        return;
    g_autoptr(GError) error = NULL;
    g_autoptr(LiveSheet) sheet = live_sheet_read(lines->nodes->pdata[0], "fuzz", &error);
    g_assert_true((sheet != NULL) == (error == NULL));
    if (!sheet)
        return;
    g_autoptr(Node) node = live_sheet_node(sheet);
    g_autoptr(LiveSheet) again = live_sheet_read(node, "again", &error);
    g_assert_no_error(error);
    g_autoptr(Node) second = live_sheet_node(again);
    g_assert_true(node_equal(node, second));
    use_day(sheet, lines);
}

int
LLVMFuzzerTestOneInput(const guint8 *data, gsize size)
{
    try_lines((const char *)data, size, FALSE);
    try_lines((const char *)data, size, TRUE);
    return 0;
}

void
fuzz_corpus(GPtrArray *corpus)
{
    fuzz_corpus_text(
        corpus,
        "{\"do\":\"start\",\"format\":\"castday\",\"version\":1,\"id\":\"d\",\"at\":1761461100,"
        "\"jobs\":[{\"id\":\"a\",\"metal\":\"a356\",\"cavities\":3,\"pouring_temperature\":735}],"
        "\"session\":{\"length\":20000,\"hours\":21000,\"people\":2,\"tasks\":["
        "{\"key\":\"set-up\",\"kind\":\"set-up\",\"start\":0,\"end\":600,\"who\":0,\"person\":true}"
        ","
        "{\"key\":\"warm-up\",\"kind\":\"warm-up\",\"start\":600,\"end\":4000,\"furnace\":0},"
        "{\"key\":\"ram-1\",\"kind\":\"ram\",\"start\":600,\"end\":2400,\"who\":0,\"person\":true,"
        "\"load\":0,\"flask\":0,\"box\":0,\"job\":0,\"after\":[0]},"
        "{\"key\":\"charge-1\",\"kind\":\"charge\",\"start\":4000,\"end\":4300,\"who\":1,"
        "\"person\":true,\"load\":0,\"furnace\":0},"
        "{\"key\":\"melt-1\",\"kind\":\"melt\",\"start\":4300,\"end\":7000,\"load\":0,"
        "\"furnace\":0},"
        "{\"key\":\"pour-1\",\"kind\":\"pour\",\"start\":7000,\"end\":7200,\"who\":0,"
        "\"person\":true,\"load\":0,\"flask\":0,\"box\":0,\"furnace\":0},"
        "{\"key\":\"cool-1\",\"kind\":\"cool\",\"start\":7200,\"end\":9000,\"load\":0,\"flask\":0,"
        "\"box\":0}],\"curve\":[{\"at\":600,\"temperature\":21,\"prompt\":\"Set 300\"}]}}\n"
        "{\"do\":\"done\",\"key\":\"set-up\",\"at\":1761461700}\n"
        "{\"do\":\"begin\",\"key\":\"ram-1\",\"at\":1761461800,\"written\":1761461801,\"who\":1}\n"
        "{\"do\":\"done\",\"key\":\"charge-1\",\"at\":1761465300}\n"
        "{\"do\":\"mass\",\"key\":\"charge-1\",\"at\":1761465300,\"value\":2.5,\"text\":\"2.5 "
        "kg\"}\n"
        "{\"do\":\"done\",\"key\":\"melt-1\",\"at\":1761468300}\n"
        "{\"do\":\"done\",\"key\":\"pour-1\",\"at\":1761468600}\n"
        "{\"do\":\"temperature\",\"key\":\"pour-1\",\"at\":1761468600,\"value\":700,\"text\":"
        "\"700 C\"}\n"
        "{\"do\":\"note\",\"at\":1761468600,\"text\":\"Windy\"}\n"
        "{\"do\":\"undo\",\"at\":1761468700}\n"
        "{\"do\":\"finish\",\"at\":1761480000}\n");
}
