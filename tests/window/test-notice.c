// SPDX-License-Identifier: GPL-3.0-or-later
// Messages of the core as they are shown: sentences, with fields and files by the names people
// know.
#include "stage-hand.h"
#include "window/notice.h"

static void
test_sentences(void)
{
    static const char *const cases[][2] = {
        {"nothing was ticked yet", "Nothing was ticked yet."},
        {"no job called \"x\"; its jobs are: a", "No job called \"x\". Its jobs are: a."},
        {"/home/a b/shop.castbook: no day is going on; start one",
         "The file “shop.castbook”: no day is going on. Start one."},
        {"my shop.castbook: cannot be read", "The file “my shop.castbook”: cannot be read."},
        {"a: b.castbook: is empty", "The file “a: b.castbook”: is empty."},
        {"Loom.castbook: shop.hours: is below nothing; give 0 or more",
         "The file “Loom.castbook”, Hours in a session: is below nothing. Give 0 or more."},
        {"set-up: is done already, at 10:05; take it back, or correct it by giving a time",
         "“set-up”: is done already, at 10:05. Take it back, or correct it by giving a time."},
        {"the mould is over the limit; see it; then go on",
         "The mould is over the limit. See it; then "
         "go on."},
        {"ärger; ändern", "Ärger. Ändern."},
        {"The day is in the log; save the book", "The day is in the log; save the book"},
        {"Journal: line 3 is damaged. ", "Journal: line 3 is damaged. "},
        {"", ""},
        {"odd: ", "Odd: ."},
        {": odd", ": odd."},
    };
    for (guint i = 0; i < G_N_ELEMENTS(cases); i++) {
        g_autofree char *sentences = fw_notice_sentences(cases[i][0]);
        g_assert_cmpstr(sentences, ==, cases[i][1]);
    }
}

int
main(int argc, char **argv)
{
    hand_init(&argc, &argv);
    g_test_add_func("/window/notice/sentences", test_sentences);
    return hand_run();
}
