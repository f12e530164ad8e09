// SPDX-License-Identifier: GPL-3.0-or-later
// The palettes. Line weights are those of ISO 128-2 group 0.5 (thick 0.5 mm, thin 0.25 mm) at 96
// units to the inch, a little finer for the thin ones on a screen. Colours are calm; every line
// keeps a contrast of 3 to its ground and every text 4.5 (the ratios of WCAG 2.1, 1.4.3 and
// 1.4.11), which a test computes.
#include "sketch/theme.h"

#define THICK 1.8
#define MIDDLE 1.2
#define THIN 0.9

// ISO 128-2 line kinds, lengths in device units: dashed (02), long-dashed (03),
// long-dashed dotted (04).
static const double dash_hidden[] = {6.0, 3.0};
static const double dash_parting[] = {14.0, 4.0};
static const double dash_centre[] = {15.0, 3.0, 1.5, 3.0};
static const double dash_now[] = {3.0, 3.0};

typedef struct {
    guint32 ink, fill; // 0xrrggbbaa
} Pair;

// What is the same in every palette.
typedef struct {
    double width;
    const double *dash;
    int n_dash;
    Hatch hatch;
} Line;

#define DASH(d) d, G_N_ELEMENTS(d)

static const Line lines[ROLE_COUNT] = {
    [ROLE_PAPER] = {THIN, NULL, 0, HATCH_NONE},
    [ROLE_FLASK] = {THICK, NULL, 0, HATCH_FALLING},
    [ROLE_SAND_COPE] = {MIDDLE, NULL, 0, HATCH_STIPPLE},
    [ROLE_SAND_DRAG] = {MIDDLE, NULL, 0, HATCH_STIPPLE_COARSE},
    [ROLE_METAL] = {THICK, NULL, 0, HATCH_RISING},
    [ROLE_GATING] = {MIDDLE, NULL, 0, HATCH_NONE},
    [ROLE_RISER] = {MIDDLE, NULL, 0, HATCH_FALLING},
    [ROLE_PART] = {THIN, NULL, 0, HATCH_NONE},
    [ROLE_PARTING] = {MIDDLE, DASH(dash_parting), HATCH_NONE},
    [ROLE_CENTRE] = {THIN, DASH(dash_centre), HATCH_NONE},
    [ROLE_HIDDEN] = {THIN, DASH(dash_hidden), HATCH_NONE},
    [ROLE_VISIBLE] = {THICK, NULL, 0, HATCH_NONE},
    [ROLE_TAB] = {MIDDLE, NULL, 0, HATCH_NONE},
    [ROLE_DIMENSION] = {THIN, NULL, 0, HATCH_NONE},
    [ROLE_TEXT] = {THIN, NULL, 0, HATCH_NONE},
    [ROLE_FAILS] = {THICK, NULL, 0, HATCH_NONE},
    [ROLE_GRID] = {THIN, NULL, 0, HATCH_NONE},
    [ROLE_CURVE] = {THICK, NULL, 0, HATCH_NONE},
    [ROLE_WARMUP] = {THIN, NULL, 0, HATCH_UPRIGHT},
    [ROLE_MELT] = {THIN, NULL, 0, HATCH_RISING},
    [ROLE_POUR] = {THIN, NULL, 0, HATCH_CROSSED},
    [ROLE_RAM] = {THIN, NULL, 0, HATCH_STIPPLE_COARSE},
    [ROLE_COOL] = {THIN, NULL, 0, HATCH_LEVEL},
    [ROLE_SHAKE_OUT] = {THIN, NULL, 0, HATCH_FALLING},
    [ROLE_SET_UP] = {THIN, NULL, 0, HATCH_NONE},
    [ROLE_NOW] = {MIDDLE, DASH(dash_now), HATCH_NONE},
    [ROLE_CUT_PART] = {THICK, NULL, 0, HATCH_RISING},
    [ROLE_CUT_ALLOWANCE] = {THIN, NULL, 0, HATCH_FALLING_FINE},
    [ROLE_CUT_WALL] = {THIN, NULL, 0, HATCH_LEVEL},
    [ROLE_CUT_FILLET] = {THIN, NULL, 0, HATCH_STIPPLE},
    [ROLE_CUT_CLOSED] = {THIN, NULL, 0, HATCH_CROSSED},
    [ROLE_CUT_UNDERCUT] = {THIN, NULL, 0, HATCH_UPRIGHT},
    [ROLE_CUT_STUB] = {THIN, NULL, 0, HATCH_SHALLOW},
    [ROLE_CUT_DRAFT] = {THIN, NULL, 0, HATCH_STEEP},
    [ROLE_CUTTING] = {MIDDLE, DASH(dash_centre), HATCH_NONE},
    [ROLE_RAM_COPE] = {THIN, NULL, 0, HATCH_STIPPLE},
    [ROLE_DRAW] = {THIN, NULL, 0, HATCH_STEEP},
    [ROLE_SHUT] = {THIN, NULL, 0, HATCH_NONE},
    [ROLE_CHARGE] = {THIN, NULL, 0, HATCH_FALLING_FINE},
    [ROLE_SKIM] = {THIN, NULL, 0, HATCH_SHALLOW},
    [ROLE_WAIT] = {THIN, DASH(dash_now), HATCH_NONE},
    [ROLE_TRACE] = {MIDDLE, NULL, 0, HATCH_NONE},
    [ROLE_NEEDS] = {THIN, NULL, 0, HATCH_NONE},
    [ROLE_CURVE_2] = {THICK, DASH(dash_hidden), HATCH_NONE},
    [ROLE_CURVE_3] = {THICK, DASH(dash_centre), HATCH_NONE},
    [ROLE_CURVE_N] = {THIN, NULL, 0, HATCH_NONE},
};

static const Pair light[ROLE_COUNT] = {
    [ROLE_PAPER] = {0x2b3640ff, 0xfcfbf8ff},      [ROLE_FLASK] = {0x4b443bff, 0xd9d2c7ff},
    [ROLE_SAND_COPE] = {0x8f7a52ff, 0xf6efe0ff},  [ROLE_SAND_DRAG] = {0x8f7a52ff, 0xf1e7d2ff},
    [ROLE_METAL] = {0x2c4357ff, 0xdde6eeff},      [ROLE_GATING] = {0x93501cff, 0xf6dcc2ff},
    [ROLE_RISER] = {0x2c655cff, 0xd3e8e2ff},      [ROLE_PART] = {0x1a5fb4ff, 0xffffff00},
    [ROLE_PARTING] = {0x9c2b4aff, 0xffffff00},    [ROLE_CENTRE] = {0x66727dff, 0xffffff00},
    [ROLE_HIDDEN] = {0x5a5148ff, 0xffffff00},     [ROLE_VISIBLE] = {0x2b3640ff, 0x2b3640ff},
    [ROLE_TAB] = {0x5a3f80ff, 0xe3d9f0ff},        [ROLE_DIMENSION] = {0x34414dff, 0xffffff00},
    [ROLE_TEXT] = {0x242e37ff, 0xffffff00},       [ROLE_FAILS] = {0xb3141eff, 0xf8d6d6ff},
    [ROLE_GRID] = {0xdcdfe1ff, 0xf3f4f4ff},       [ROLE_CURVE] = {0xb8431aff, 0xfbe6dcff},
    [ROLE_WARMUP] = {0xa5701aff, 0xfaebc8ff},     [ROLE_MELT] = {0xb3541cff, 0xfad8bfff},
    [ROLE_POUR] = {0xa8323aff, 0xf4c4c0ff},       [ROLE_RAM] = {0x77694aff, 0xe9dfc8ff},
    [ROLE_COOL] = {0x3d7396ff, 0xd3e5f0ff},       [ROLE_SHAKE_OUT] = {0x47784aff, 0xd5e8d3ff},
    [ROLE_SET_UP] = {0x6d747bff, 0xe4e7eaff},     [ROLE_NOW] = {0x1a5fb4ff, 0xffffff00},
    [ROLE_CUT_PART] = {0x22384dff, 0xdfe6ecff},   [ROLE_CUT_ALLOWANCE] = {0x8a4b12ff, 0xf7e3cbff},
    [ROLE_CUT_WALL] = {0x5a4a86ff, 0xe7e0f2ff},   [ROLE_CUT_FILLET] = {0x55602aff, 0xebeed8ff},
    [ROLE_CUT_CLOSED] = {0x7a2f5aff, 0xf3dce8ff}, [ROLE_CUT_UNDERCUT] = {0x9c2a2aff, 0xf8dcd8ff},
    [ROLE_CUT_STUB] = {0x23615aff, 0xd8ece8ff},   [ROLE_CUT_DRAFT] = {0x1d5c93ff, 0xd7e8f6ff},
    [ROLE_CUTTING] = {0x8c1d40ff, 0xffffffff},    [ROLE_RAM_COPE] = {0x77694aff, 0xf3ecdcff},
    [ROLE_DRAW] = {0x5a3f80ff, 0xe9e1f3ff},       [ROLE_SHUT] = {0x5a5148ff, 0xd9d2c7ff},
    [ROLE_CHARGE] = {0x8a5a12ff, 0xf7e6bcff},     [ROLE_SKIM] = {0x93501cff, 0xf6dcc2ff},
    [ROLE_WAIT] = {0x6d747bff, 0xffffff00},       [ROLE_TRACE] = {0x1a5fb4ff, 0xffffff00},
    [ROLE_NEEDS] = {0x8c1d40ff, 0xffffff00},      [ROLE_CURVE_2] = {0xb8431aff, 0xffffff00},
    [ROLE_CURVE_3] = {0xb8431aff, 0xffffff00},    [ROLE_CURVE_N] = {0xb8431aff, 0xffffff00},
};

static const Pair dark[ROLE_COUNT] = {
    [ROLE_PAPER] = {0xe3e7eaff, 0x1d2125ff},      [ROLE_FLASK] = {0xb9ad9cff, 0x3e3a35ff},
    [ROLE_SAND_COPE] = {0x98865fff, 0x2c2a25ff},  [ROLE_SAND_DRAG] = {0x9b875cff, 0x322e27ff},
    [ROLE_METAL] = {0xaec3d4ff, 0x33414dff},      [ROLE_GATING] = {0xe6a36aff, 0x573a23ff},
    [ROLE_RISER] = {0x86c7b8ff, 0x27463fff},      [ROLE_PART] = {0x7db8f7ff, 0x00000000},
    [ROLE_PARTING] = {0xf08aa4ff, 0x00000000},    [ROLE_CENTRE] = {0x97a3adff, 0x00000000},
    [ROLE_HIDDEN] = {0xb5a995ff, 0x00000000},     [ROLE_VISIBLE] = {0xe3e7eaff, 0xe3e7eaff},
    [ROLE_TAB] = {0xc5aeeaff, 0x43365aff},        [ROLE_DIMENSION] = {0xcfd6dcff, 0x00000000},
    [ROLE_TEXT] = {0xeceff1ff, 0x00000000},       [ROLE_FAILS] = {0xff8b86ff, 0x5a2626ff},
    [ROLE_GRID] = {0x363c42ff, 0x252a2eff},       [ROLE_CURVE] = {0xff9d6cff, 0x3d2c24ff},
    [ROLE_WARMUP] = {0xdcb25aff, 0x4d3f1fff},     [ROLE_MELT] = {0xee9c66ff, 0x5a3822ff},
    [ROLE_POUR] = {0xf08a88ff, 0x60302fff},       [ROLE_RAM] = {0xb9a987ff, 0x453f31ff},
    [ROLE_COOL] = {0x83b8daff, 0x27414fff},       [ROLE_SHAKE_OUT] = {0x8fc48fff, 0x2c472eff},
    [ROLE_SET_UP] = {0xa3abb2ff, 0x3a4046ff},     [ROLE_NOW] = {0x7db8f7ff, 0x00000000},
    [ROLE_CUT_PART] = {0xc3d2deff, 0x36434eff},   [ROLE_CUT_ALLOWANCE] = {0xe9b173ff, 0x4f3a22ff},
    [ROLE_CUT_WALL] = {0xbfaee6ff, 0x3c3553ff},   [ROLE_CUT_FILLET] = {0xc5cc90ff, 0x3b3f26ff},
    [ROLE_CUT_CLOSED] = {0xe3a3c4ff, 0x50303fff}, [ROLE_CUT_UNDERCUT] = {0xf09a92ff, 0x55302cff},
    [ROLE_CUT_STUB] = {0x8fcfc2ff, 0x26463fff},   [ROLE_CUT_DRAFT] = {0x8dc0eeff, 0x233f57ff},
    [ROLE_CUTTING] = {0xf08aa4ff, 0x000000ff},    [ROLE_RAM_COPE] = {0xb9a987ff, 0x393429ff},
    [ROLE_DRAW] = {0xc5aeeaff, 0x3d3350ff},       [ROLE_SHUT] = {0xb9ad9cff, 0x3e3a35ff},
    [ROLE_CHARGE] = {0xe6bc6aff, 0x4d3f1fff},     [ROLE_SKIM] = {0xe6a36aff, 0x573a23ff},
    [ROLE_WAIT] = {0xa3abb2ff, 0x00000000},       [ROLE_TRACE] = {0x7db8f7ff, 0x00000000},
    [ROLE_NEEDS] = {0xf08aa4ff, 0x00000000},      [ROLE_CURVE_2] = {0xff9d6cff, 0x00000000},
    [ROLE_CURVE_3] = {0xff9d6cff, 0x00000000},    [ROLE_CURVE_N] = {0xff9d6cff, 0x00000000},
};

// For a printer: white ground, little toner, and nearly black ink, so that grey prints read too.
static const Pair paper[ROLE_COUNT] = {
    [ROLE_PAPER] = {0x000000ff, 0xffffffff},      [ROLE_FLASK] = {0x1e1e1eff, 0xededebff},
    [ROLE_SAND_COPE] = {0x7d7566ff, 0xffffff00},  [ROLE_SAND_DRAG] = {0x7d7566ff, 0xffffff00},
    [ROLE_METAL] = {0x101820ff, 0xf4f6f8ff},      [ROLE_GATING] = {0x5e3210ff, 0xf9ecdfff},
    [ROLE_RISER] = {0x17423bff, 0xecf4f1ff},      [ROLE_PART] = {0x154c91ff, 0xffffff00},
    [ROLE_PARTING] = {0x7d1f3aff, 0xffffff00},    [ROLE_CENTRE] = {0x4a525aff, 0xffffff00},
    [ROLE_HIDDEN] = {0x3c3c3cff, 0xffffff00},     [ROLE_VISIBLE] = {0x000000ff, 0x000000ff},
    [ROLE_TAB] = {0x45306bff, 0xf1ecf7ff},        [ROLE_DIMENSION] = {0x1c1c1cff, 0xffffff00},
    [ROLE_TEXT] = {0x000000ff, 0xffffff00},       [ROLE_FAILS] = {0xa3000bff, 0xfbe4e4ff},
    [ROLE_GRID] = {0xd2d2d2ff, 0xf6f6f6ff},       [ROLE_CURVE] = {0x98340fff, 0xfdf0eaff},
    [ROLE_WARMUP] = {0x7b520dff, 0xfcf4e0ff},     [ROLE_MELT] = {0x8a3d10ff, 0xfce8d9ff},
    [ROLE_POUR] = {0x87242bff, 0xf8dcdaff},       [ROLE_RAM] = {0x5b4f37ff, 0xf2ede1ff},
    [ROLE_COOL] = {0x2c5874ff, 0xe6f0f6ff},       [ROLE_SHAKE_OUT] = {0x335a36ff, 0xe7f2e6ff},
    [ROLE_SET_UP] = {0x50565cff, 0xf0f1f3ff},     [ROLE_NOW] = {0x154c91ff, 0xffffff00},
    [ROLE_CUT_PART] = {0x101820ff, 0xf4f6f8ff},   [ROLE_CUT_ALLOWANCE] = {0x5e3210ff, 0xfcf3e8ff},
    [ROLE_CUT_WALL] = {0x45306bff, 0xf5f1faff},   [ROLE_CUT_FILLET] = {0x3d4618ff, 0xf7f8eeff},
    [ROLE_CUT_CLOSED] = {0x5f1f44ff, 0xfbf0f5ff}, [ROLE_CUT_UNDERCUT] = {0x7d1f1fff, 0xfcf0eeff},
    [ROLE_CUT_STUB] = {0x17423bff, 0xeef6f4ff},   [ROLE_CUT_DRAFT] = {0x17446fff, 0xeef5fbff},
    [ROLE_CUTTING] = {0x7d1f3aff, 0xffffffff},    [ROLE_RAM_COPE] = {0x5b4f37ff, 0xf8f5edff},
    [ROLE_DRAW] = {0x45306bff, 0xf1ecf7ff},       [ROLE_SHUT] = {0x3c3c3cff, 0xededebff},
    [ROLE_CHARGE] = {0x6b4608ff, 0xfbf1d8ff},     [ROLE_SKIM] = {0x5e3210ff, 0xf9ecdfff},
    [ROLE_WAIT] = {0x50565cff, 0xffffff00},       [ROLE_TRACE] = {0x154c91ff, 0xffffff00},
    [ROLE_NEEDS] = {0x7d1f3aff, 0xffffff00},      [ROLE_CURVE_2] = {0x98340fff, 0xffffff00},
    [ROLE_CURVE_3] = {0x98340fff, 0xffffff00},    [ROLE_CURVE_N] = {0x98340fff, 0xffffff00},
};

static void
spread_colour(guint32 packed, double rgba[4])
{
    for (int i = 0; i < 4; i++)
        rgba[i] = ((packed >> (24 - 8 * i)) & 0xff) / 255.0;
}

static void
fill_theme(Theme *theme, ThemeKind kind, const Pair *pairs, guint32 accent)
{
    theme->kind = kind;
    theme->font = "Cantarell, DejaVu Sans, sans-serif";
    spread_colour(accent, theme->accent);
    for (int i = 0; i < ROLE_COUNT; i++) {
        ThemeInk *ink = &theme->role[i];
        spread_colour(pairs[i].ink, ink->ink);
        spread_colour(pairs[i].fill, ink->fill);
        ink->width = lines[i].width;
        ink->dash = lines[i].dash;
        ink->n_dash = lines[i].n_dash;
        ink->hatch = lines[i].hatch;
    }
}

// Never NULL, never freed; may be called from any thread.
const Theme *
theme_get(ThemeKind kind)
{
    static Theme themes[3];
    static gsize made = 0;
    if (g_once_init_enter(&made)) {
        fill_theme(&themes[THEME_LIGHT], THEME_LIGHT, light, 0x1a5fb4ff);
        fill_theme(&themes[THEME_DARK], THEME_DARK, dark, 0x78aeedff);
        fill_theme(&themes[THEME_PAPER], THEME_PAPER, paper, 0x154c91ff);
        g_once_init_leave(&made, 1);
    }
    g_return_val_if_fail(kind <= THEME_PAPER, &themes[THEME_LIGHT]);
    return &themes[kind];
}
