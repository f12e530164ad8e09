// SPDX-License-Identifier: GPL-3.0-or-later
// Contrast of every role in every palette, by the formula of WCAG 2.1 (relative luminance and
// contrast ratio).
#include "check.h"
#include "sketch/theme.h"

static double
luminance(const double rgba[4])
{
    double linear[3];
    for (int i = 0; i < 3; i++)
        linear[i] = rgba[i] <= 0.03928 ? rgba[i] / 12.92 : pow((rgba[i] + 0.055) / 1.055, 2.4);
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2];
}

static double
contrast(const double a[4], const double b[4])
{
    double la = luminance(a), lb = luminance(b);
    return (fmax(la, lb) + 0.05) / (fmin(la, lb) + 0.05);
}

static void
test_formula(void)
{
    const double white[4] = {1, 1, 1, 1}, black[4] = {0, 0, 0, 1};
    const double grey[4] = {0x77 / 255.0, 0x77 / 255.0, 0x77 / 255.0, 1};
    check_close(contrast(white, black), 21.0, 1e-12, "WCAG 2.1: white on black");
    check_close(contrast(white, grey), 4.48, 2e-3, "#777 on white, widely tabulated as 4.48");
}

// A fill that is clear shows what it stands on: paper.
static const double *
ground_of(const Theme *theme, SceneRole role)
{
    const double *fill = theme->role[role].fill;
    return fill[3] > 0.5 ? fill : theme->role[ROLE_PAPER].fill;
}

static void
check_contrast(const Theme *theme, SceneRole ink, SceneRole ground, double least)
{
    double ratio = contrast(theme->role[ink].ink, ground_of(theme, ground));
    if (ratio < least)
        g_test_message("theme %d: ink of role %d on role %d: %.2f, not %.1f", theme->kind, ink,
                       ground, ratio, least);
    g_assert_cmpfloat(ratio, >=, least);
}

static void
test_contrast(void)
{
    static const SceneRole grounds[] = {ROLE_PAPER, ROLE_SAND_COPE, ROLE_SAND_DRAG};
    static const SceneRole words[] = {ROLE_TEXT, ROLE_DIMENSION, ROLE_FAILS, ROLE_NOW};
    static const SceneRole blocks[] = {
        ROLE_METAL,         ROLE_GATING,    ROLE_RISER,      ROLE_TAB,        ROLE_WARMUP,
        ROLE_MELT,          ROLE_POUR,      ROLE_RAM,        ROLE_COOL,       ROLE_SHAKE_OUT,
        ROLE_SET_UP,        ROLE_GRID,      ROLE_FAILS,      ROLE_CURVE,      ROLE_CUT_PART,
        ROLE_CUT_ALLOWANCE, ROLE_CUT_WALL,  ROLE_CUT_FILLET, ROLE_CUT_CLOSED, ROLE_CUT_UNDERCUT,
        ROLE_CUT_STUB,      ROLE_CUT_DRAFT, ROLE_RAM_COPE,   ROLE_DRAW,       ROLE_SHUT,
        ROLE_CHARGE,        ROLE_SKIM};
    for (ThemeKind kind = THEME_LIGHT; kind <= THEME_PAPER; kind++) {
        const Theme *theme = theme_get(kind);
        for (guint g = 0; g < G_N_ELEMENTS(grounds); g++) {
            for (guint i = 0; i < G_N_ELEMENTS(words); i++)
                check_contrast(theme, words[i], grounds[g], 4.5);
            for (int role = 0; role < ROLE_COUNT; role++)
                if (role != ROLE_GRID)
                    check_contrast(theme, role, grounds[g], 3.0);
        }
        for (guint i = 0; i < G_N_ELEMENTS(blocks); i++) {
            check_contrast(theme, ROLE_TEXT, blocks[i], 4.5);
            if (blocks[i] != ROLE_GRID)
                check_contrast(theme, blocks[i], blocks[i], 3.0);
        }
        g_assert_cmpfloat(contrast(theme->accent, theme->role[ROLE_PAPER].fill), >=, 3.0);
    }
}

static void
test_line_kinds(void)
{
    for (ThemeKind kind = THEME_LIGHT; kind <= THEME_PAPER; kind++) {
        const Theme *theme = theme_get(kind);
        g_assert_cmpint(theme->kind, ==, kind);
        g_assert_nonnull(theme->font);
        // ISO 128-2: thick to thin is 2 to 1.
        double ratio = theme->role[ROLE_VISIBLE].width / theme->role[ROLE_DIMENSION].width;
        check_close(ratio, 2.0, 0.05, "ISO 128-2, line groups");
        // Never by colour alone.
        g_assert_cmpint(theme->role[ROLE_SAND_COPE].hatch, !=, theme->role[ROLE_SAND_DRAG].hatch);
        g_assert_cmpint(theme->role[ROLE_PARTING].n_dash, ==, 2);
        g_assert_cmpint(theme->role[ROLE_CENTRE].n_dash, ==, 4);
        g_assert_cmpint(theme->role[ROLE_HIDDEN].n_dash, ==, 2);
        g_assert_null(theme->role[ROLE_VISIBLE].dash);
    }
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/sketch/theme/formula", test_formula);
    g_test_add_func("/sketch/theme/contrast", test_contrast);
    g_test_add_func("/sketch/theme/line-kinds", test_line_kinds);
    return g_test_run();
}
