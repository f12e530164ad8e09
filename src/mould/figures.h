// SPDX-License-Identifier: GPL-3.0-or-later
// The figures of the mould in three steps, each beside its formulas: what is wished for, how it is
// filled, and what stands and pushes in the flask.
#pragma once

#include "mould/build.h"
#include "mould/tabs.h"

G_BEGIN_DECLS

// Heads, densities, times and the hot cavity's sizes. Returns FALSE when something the layout
// cannot do without is unknown.
// `guest` (may be NULL) shares the flask: heights are those of the taller, the wall is the thinner.
gboolean mould_figures_wish(const Inputs *inputs, const PatternResult *pattern,
                            const FeedResult *feed, const MouldGuest *guest, FigureList *figures,
                            MouldWish *wish);

// The shared wish as it is when no guest finds room: a riser beside the casting stands where this
// job's feeding has it. The heads and the wall stay those of both, as the figures say.
MouldWish mould_figures_alone_wish(const Inputs *inputs, const PatternResult *pattern,
                                   const FeedResult *feed, const MouldWish *shared);

// The wish as it is for a cavity of the guest.
MouldWish mould_figures_guest_wish(const Inputs *inputs, const MouldGuest *guest,
                                   const MouldWish *host);

// Figures of the sand that is asked for.
#define MOULD_LEAST_WALL "mould.sand_asked.wall"
#define MOULD_LEAST_BETWEEN "mould.sand_asked.between"
#define MOULD_LEAST_RUNNER "mould.sand_asked.runner" // to the sprue too
#define MOULD_LEAST_TOP "mould.sand_asked.top"
#define MOULD_LEAST_BOTTOM "mould.sand_asked.bottom"

// m over a cavity that reaches `high` (m) into the cope: as set, or by the rule.
double mould_figures_sand_over(const Inputs *inputs, double high);

// Adds them; the heights of the cavity must be there.
void mould_figures_covers(const Inputs *inputs, FigureList *figures);

// Whether and how the flask is shared, or why not (`trouble`); nothing when it is not asked for.
void mould_figures_guest(const Inputs *inputs, FigureList *figures, const MouldLayout *layout,
                         const MouldGuest *guest, const char *trouble);

// mould.cavities: `place` says what a single cavity would need when the layout has none; NULL when
// too little is known to try.
void mould_figures_cavities(const Inputs *inputs, const MouldWish *wish,
                            const PatternResult *pattern, FigureList *figures,
                            const MouldLayout *layout, const MouldWay *way,
                            const MouldPlace *place);

// Metal, filling time, choke, gates. `pour` NULL: no cavity fits or not known, all unknown.
void mould_figures_pour(const Inputs *inputs, FigureList *figures, const MouldLayout *layout,
                        const MouldPour *pour);

// How long the channels can wait, against mould.fill_time, which must be there before.
void mould_figures_channels(FigureList *figures, const MouldPour *pour);

// Times, gates, pouring and choke by the stepped filling of the layout; NULL: all unknown.
// `better`: sizes that would keep the limits where these do not, or NULL. `pull`: of the pattern,
// part axes.
void mould_figures_fill(const Inputs *inputs, FigureList *figures, const MouldLayout *layout,
                        const MouldPour *better, Vec3 pull);

// The riser's neck: nothing without a riser or without a layout.
void mould_figures_neck(const Inputs *inputs, FigureList *figures, const MouldLayout *layout);

// Cover, lift, weight, tabs, sand. `layout` NULL or without cavities: what needs them is unknown.
void mould_figures_flask(const Inputs *inputs, const PatternResult *pattern, FigureList *figures,
                         const MouldLayout *layout);

// Space inside cope and drag.
void mould_figures_space(const Inputs *inputs, FigureList *figures);

// How well the cavities use the flask, and what is out of place. `layout` NULL: unknown.
void mould_figures_placing(const Inputs *inputs, const PatternResult *pattern, FigureList *figures,
                           const MouldLayout *layout);

// How many cavities the flask could hold at most, by which bound, and what share the layout has.
void mould_figures_bound(const Inputs *inputs, const PatternResult *pattern, FigureList *figures,
                         const MouldLayout *layout);

// Its parts; `layout` NULL or with cavities. mould_figures_tabs() also takes one without.
void mould_figures_lift(const Inputs *inputs, const PatternResult *pattern, FigureList *figures,
                        const MouldLayout *layout);
void mould_figures_tabs(const Inputs *inputs, const PatternResult *pattern, FigureList *figures,
                        const MouldLayout *layout);
void mould_figures_sand(const Inputs *inputs, FigureList *figures, const MouldLayout *layout);

// Tabs or pins as the fields ask for them.
MouldTabWish mould_figures_tab_wish(const Inputs *inputs, const FigureList *figures);

// Adds a figure made by measuring the layout: with NAN it is unknown for want of cavities.
Figure *mould_figures_measured(FigureList *figures, const FigureSpec *spec, double value,
                               const char *input);

// `length` (m) rounded up to what a flask is made to, a whole millimetre or a sixteenth of an inch,
// in the shop's unit. Free.
char *mould_figures_size(const Inputs *inputs, double length);

G_END_DECLS
