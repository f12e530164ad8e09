// SPDX-License-Identifier: GPL-3.0-or-later
// The pull as given, else the search's best. A stage of its own, so that a search is done again
// only when the part or what is asked of its casting changes.
#include "part/pull-stage.h"

#include <glib/gi18n-lib.h>

#include "base/digest.h"

#define PULL_METHOD                                                                                \
    N_("As given, or else the best of more than a thousand directions over the half-sphere, the "  \
       "part's axes and flat faces among them: least metal added, then least depth of draw, then " \
       "least parting area; the heavier half in the drag.")

const char *const pull_reads[] = {"job.allowance",     "job.draft",       "job.pull",
                                  "job.stub_diameter", "job.stub_height", "job.close_holes",
                                  "job.fillet",        "job.min_wall",    NULL};

static const FigureSpec specs[3] = {
    {"pattern.pull.x", N_("Pull direction, x"), QUANTITY_NUMBER, NULL, PULL_METHOD, "geometry"},
    {"pattern.pull.y", N_("Pull direction, y"), QUANTITY_NUMBER, NULL, PULL_METHOD, "geometry"},
    {"pattern.pull.z", N_("Pull direction, z"), QUANTITY_NUMBER, NULL, PULL_METHOD, "geometry"}};

static void
clear_result(gpointer data)
{
    g_free(((PullResult *)data)->digest);
}

PullResult *
pull_result_ref(const PullResult *result)
{
    return g_atomic_rc_box_acquire((PullResult *)result);
}

void
pull_result_unref(const PullResult *result)
{
    if (result)
        g_atomic_rc_box_release_full((PullResult *)result, clear_result);
}

EnvelopeOptions
pull_options(const Inputs *inputs, const char **missing)
{
    EnvelopeOptions o = {0};
    const struct {
        const char *path;
        double *to;
    } rows[] = {{"job.allowance", &o.allowance},
                {"job.draft", &o.draft},
                {"job.stub_diameter", &o.stub_diameter},
                {"job.stub_height", &o.stub_height},
                {"job.close_holes", &o.close_holes},
                {"job.fillet", &o.fillet},
                {"job.min_wall", &o.min_wall}};
    const char *first = NULL;
    for (guint i = 0; i < G_N_ELEMENTS(rows); i++) {
        *rows[i].to = inputs_number(inputs, rows[i].path);
        if (isnan(*rows[i].to) && !first)
            first = rows[i].path;
    }
    if (missing)
        *missing = first;
    return o;
}

// Rounding of turning to and fro is no direction.
static double
drop_rounding(double component)
{
    return fabs(component) < 1e-12 ? 0 : component;
}

static void
add_unknown(FigureList *figures, const char *missing)
{
    for (int i = 0; i < 3; i++)
        figure_add_unknown(figures, &specs[i], missing);
}

static void
add_figures(FigureList *figures, const PullResult *r)
{
    double pull[3] = {r->pull.x, r->pull.y, r->pull.z};
    for (int i = 0; i < 3; i++) {
        if (!r->searched) {
            figure_add(figures, &specs[i], pull[i], "job.pull", NULL);
            continue;
        }
        Figure *figure = figure_add(figures, &specs[i], pull[i], "part.volume", "job.allowance",
                                    "job.draft", "job.stub_diameter", "job.stub_height",
                                    "job.close_holes", "job.fillet", "job.min_wall", NULL);
        figure_set_note(figure, _("%u directions were judged."), r->found.directions);
    }
}

// FALSE with an error.
static gboolean
find_pull(PullResult *r, const Inputs *inputs, const PartResult *part, const EnvelopeOptions *o,
          Progress *progress, GError **error)
{
    const char *typed = inputs_text(inputs, "job.pull");
    double v[3];
    r->searched = !typed || !*typed;
    if (!r->searched) {
        if (!field_vector(typed, v, error))
            return FALSE;
        r->pull = vec3_unit(vec3(v[0], v[1], v[2]));
        return TRUE;
    }
    if (!search_pulls(part->mesh, o, &r->found, NULL, NULL, progress, error))
        return FALSE;
    Vec3 best = r->found.answers[0].pull;
    r->pull = vec3_unit(vec3(drop_rounding(best.x), drop_rounding(best.y), drop_rounding(best.z)));
    return TRUE;
}

PullResult *
pull_stage(const Inputs *inputs, const PartResult *part, FigureList *figures, Progress *progress,
           GError **error)
{
    inputs_give(inputs, figures);
    const char *missing = NULL;
    EnvelopeOptions o = pull_options(inputs, &missing);
    if (!part || !part->solid || missing) {
        add_unknown(figures, missing ? missing : "part.closed");
        return NULL;
    }
    g_autoptr(PullResult) r = g_atomic_rc_box_new0(PullResult);
    if (!find_pull(r, inputs, part, &o, progress, error)) {
        add_unknown(figures, "job.pull");
        return NULL;
    }
    g_autoptr(Digest) digest = digest_new();
    digest_add_double(digest, r->pull.x);
    digest_add_double(digest, r->pull.y);
    digest_add_double(digest, r->pull.z);
    r->digest = digest_end(digest);
    add_figures(figures, r);
    progress_set_fraction(progress, 1);
    return g_steal_pointer(&r);
}
