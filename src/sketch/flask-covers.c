// SPDX-License-Identifier: GPL-3.0-or-later
// Sand covers on the flask in plan, as dimensions between the two places where the sand is
// thinnest.
#include <math.h>

#include "mould/fixed.h"
#include "mould/space.h"
#include "sketch/flask-kit.h"

#define SMALL_GAP 3.0 // grains, under which a ring shows where it is
#define SHORT 5e-5    // m; what the drawing's numbers do not show falls short of nothing

static const struct {
    MouldCoverKind kind;
    const char *id;
} kinds[] = {{MOULD_COVER_WALL, "cover-wall"},
             {MOULD_COVER_BETWEEN, "cover-between"},
             {MOULD_COVER_SPRUE, "cover-sprue"},
             {MOULD_COVER_RUNNER, "cover-runner"}};

static double
need_of(const FlaskDraft *d, MouldCoverKind kind)
{
    if (!d->layout->fixed)
        return NAN;
    const MouldWish *wish = &d->layout->fixed->wish;
    if (kind == MOULD_COVER_WALL)
        return wish->asked_wall;
    return kind == MOULD_COVER_BETWEEN ? wish->asked_between : wish->asked_runner;
}

static gboolean
falls_short(const FlaskDraft *d, MouldCoverKind kind, double distance)
{
    return distance < need_of(d, kind) - SHORT;
}

static void
draw_gap(FlaskDraft *d, MouldCoverKind kind, const char *id, double distance, Vec3 from, Vec3 to)
{
    SolidPoint a = {from.x * FLASK_MM, from.y * FLASK_MM};
    SolidPoint b = {to.x * FLASK_MM, to.y * FLASK_MM};
    double length = hypot(b.x - a.x, b.y - a.y);
    gboolean fails = falls_short(d, kind, distance);
    // In one half's plan, what the other half holds is not there to be measured from.
    gboolean gating = kind == MOULD_COVER_SPRUE || kind == MOULD_COVER_RUNNER;
    if (!isfinite(length) || !isfinite(distance))
        return;
    // But sand that is missing is told in both.
    if (!fails && (!flask_label_shown(d, a, gating) ||
                   (kind != MOULD_COVER_WALL && !flask_label_shown(d, b, gating))))
        return;
    if (fails && length < SMALL_GAP * d->grain)
        scene_add_circle(d->scene, ROLE_FAILS, FLASK_ORDER_LINE, id, FALSE, TRUE, (a.x + b.x) / 2,
                         (a.y + b.y) / 2, length / 2 + 0.8 * d->grain);
    if (!(length > 0))
        return;
    g_autofree char *text = flask_length_number(d, distance);
    g_autofree char *need = flask_length_number(d, need_of(d, kind));
    g_autofree char *both = g_strdup_printf("%s < %s", text, need);
    flask_label_gap(d, fails ? ROLE_FAILS : ROLE_DIMENSION, id, a, b, fails ? both : text);
}

// The least of the whole flask, as the layout has it.
static void
draw_least(FlaskDraft *d)
{
    const MouldLayout *l = d->layout;
    if (l->n_cavities > 0)
        draw_gap(d, MOULD_COVER_WALL, "cover-wall", l->cover_wall, l->cover_wall_from,
                 l->cover_wall_to);
    if (l->n_cavities > 1)
        draw_gap(d, MOULD_COVER_BETWEEN, "cover-between", l->cover_between, l->cover_between_from,
                 l->cover_between_to);
    if (falls_short(d, MOULD_COVER_SPRUE, l->cover_sprue))
        draw_gap(d, MOULD_COVER_SPRUE, "cover-sprue", l->cover_sprue, l->cover_sprue_from,
                 l->cover_sprue_to);
    if (falls_short(d, MOULD_COVER_RUNNER, l->cover_runner))
        draw_gap(d, MOULD_COVER_RUNNER, "cover-runner", l->cover_runner, l->cover_runner_from,
                 l->cover_runner_to);
}

static gboolean
is_least(const FlaskDraft *d, MouldCoverKind kind, const MouldGap *gap)
{
    MouldGap least = mould_space_least(d->layout->space, kind);
    return gap->cavity == least.cavity &&
           (kind != MOULD_COVER_BETWEEN || gap->other == least.other);
}

// Of one cavity what is not drawn yet: its own covers when it is being moved, and what falls short.
static void
draw_own(FlaskDraft *d, guint cavity, gboolean moving)
{
    for (guint k = 0; k < G_N_ELEMENTS(kinds); k++) {
        MouldCoverKind kind = kinds[k].kind;
        gboolean exact = TRUE;
        MouldGap gap = mould_space_of(d->layout->space, kind, cavity, &exact);
        gboolean near = kind == MOULD_COVER_WALL || kind == MOULD_COVER_BETWEEN;
        if (!exact || isnan(gap.distance) || is_least(d, kind, &gap))
            continue;
        if (kind == MOULD_COVER_BETWEEN && !moving && gap.other < cavity)
            continue; // the other one has drawn it
        if ((moving && near) || falls_short(d, kind, gap.distance))
            draw_gap(d, kind, kinds[k].id, gap.distance, gap.from, gap.to);
    }
}

void
flask_covers(FlaskDraft *d)
{
    draw_least(d);
    guint moving = d->marks ? d->marks->moving : 0;
    for (guint i = 0; d->layout->space && i < d->layout->n_cavities; i++)
        draw_own(d, i, i + 1 == moving);
}
