// SPDX-License-Identifier: GPL-3.0-or-later
// Every field and every figure of the demo is to be found on some step.
#include "check.h"
#include "stage-hand.h"
#include "window/steps.h"

static void
test_every_field_has_a_step(void)
{
    for (guint i = 0; i < field_count(); i++)
        g_assert_nonnull(steps_find(field_at(i)->step));
}

static void
test_every_figure_has_a_step(void)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(Desk) desk = desk_new(hand_tables());
    g_autofree char *demo = hand_demo();
    desk_open(desk, demo, &error);
    g_assert_no_error(error);
    hand_wait_plan(desk);
    const Plan *plan = desk_plan(desk);
    for (guint i = 0; i < plan_figure_count(plan); i++)
        g_assert_nonnull(steps_of_figure(plan, plan_figure_at(plan, i)->spec->id));
    for (guint i = 0; i < steps_count(); i++)
        for (guint f = 0; steps_at(i)->figures[f].id; f++)
            g_assert_nonnull(plan_figure(plan, steps_at(i)->figures[f].id));
}

int
main(int argc, char **argv)
{
    hand_init(&argc, &argv);
    g_test_add_func("/window/steps/fields", test_every_field_has_a_step);
    g_test_add_func("/window/steps/figures", test_every_figure_has_a_step);
    return hand_run();
}
