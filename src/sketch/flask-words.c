// SPDX-License-Identifier: GPL-3.0-or-later
// Words about the things in a flask drawing, for the hover and the screen reader, with the figure
// that explains each. Only things that have a shape in the drawing get any.
#include <glib/gi18n-lib.h>
#include <math.h>

#include "sketch/flask-kit.h"

static gboolean
has_shape(const Scene *scene, const char *id)
{
    for (guint i = 0; i < scene_shape_count(scene); i++)
        if (g_strcmp0(scene_shape(scene, i)->part, id) == 0)
            return TRUE;
    return FALSE;
}

static void
add_words(FlaskDraft *draft, const char *id, const char *label, const char *figure,
          const char *description)
{
    if (has_shape(draft->scene, id))
        scene_add_part(draft->scene, id, label, description, figure);
}

static void
describe_flask(FlaskDraft *draft)
{
    const MouldLayout *l = draft->layout;
    g_autofree char *length = flask_length(draft, l->length);
    g_autofree char *width = flask_length(draft, l->width);
    g_autofree char *cope = flask_length(draft, l->cope);
    g_autofree char *drag = flask_length(draft, l->drag);
    g_autofree char *words = l->round
                                 ? g_strdup_printf(
                                       _("Inside %s across; cope %s high, drag %s deep"), length,
                                       cope, drag)
                                 : g_strdup_printf(_("Inside %s by %s; cope %s high, drag %s deep"),
                                                   length, width, cope, drag);
    add_words(draft, "flask", _("Flask"), "mould.sand_mass", words);
}

static void
describe_cavity(FlaskDraft *draft, guint i)
{
    const MouldCavity *cavity = &draft->layout->cavities[i];
    g_autofree char *id = g_strdup_printf("cavity-%u", i + 1);
    g_autofree char *label = g_strdup_printf(_("Cavity %u"), i + 1);
    g_autofree char *x = flask_length(draft, cavity->x);
    g_autofree char *y = flask_length(draft, cavity->y);
    g_autofree char *turn = quantity_format(QUANTITY_ANGLE, cavity->turn, draft->units);
    g_autoptr(GString) words = g_string_new(NULL);
    SolidPoint min, max;
    if (flask_cavity_box(draft, i, &min, &max)) {
        double to_x = draft->layout->length / 2.0 - fmax(max.x, -min.x);
        double to_y = draft->layout->width / 2.0 - fmax(max.y, -min.y);
        g_autofree char *cover = flask_length(draft, fmin(to_x, to_y));
        g_string_append_printf(words, _("Sand to the wall %s"), cover);
        g_string_append(words, "; ");
    }
    if (cavity->guest && draft->layout->guest)
        g_string_append_printf(words, _("casting of %s; "), draft->layout->guest->name);
    g_string_append_printf(words, _("middle at %s along and %s across, turned %s"), x, y, turn);
    if (draft->marks && draft->marks->locked && draft->marks->locked[i]) {
        g_string_append(words, "; ");
        g_string_append(words, _("locked"));
    }
    if (cavity->mismatch > 0.0) {
        g_autofree char *off = quantity_format(QUANTITY_LENGTH, cavity->mismatch, draft->units);
        g_string_append_printf(words, _("; halves out of register by %s at the most"), off);
    }
    add_words(draft, id, label, "mould.sand_cover.wall", words->str);
}

static void
describe_sprue(FlaskDraft *draft)
{
    const MouldLayout *l = draft->layout;
    g_autofree char *top = flask_length(draft, l->sprue_top_diameter);
    g_autofree char *bottom = flask_length(draft, l->sprue_bottom_diameter);
    g_autofree char *height = flask_length(draft, l->sprue_height);
    g_autofree char *words = g_strdup_printf(_("Diameter %s at the top, %s at the bottom, %s high"),
                                             top, bottom, height);
    add_words(draft, "sprue", _("Sprue"), "mould.sprue_top_area", words);
    g_autofree char *basin = flask_length(draft, l->basin_height);
    g_autofree char *basin_words = g_strdup_printf(_("Stands %s over the cope"), basin);
    add_words(draft, "basin", _("Pouring basin"), "mould.effective_head", basin_words);
    g_autofree char *diameter = flask_length(draft, l->well_diameter);
    g_autofree char *depth = flask_length(draft, l->well_depth);
    g_autofree char *well = g_strdup_printf(_("Diameter %s, %s deep"), diameter, depth);
    add_words(draft, "well", _("Sprue well"), "mould.sprue_top_area", well);
}

static void
describe_channel(FlaskDraft *draft, const char *id, const char *label, const char *figure,
                 const MouldChannel *channel)
{
    g_autofree char *width = flask_length(draft, channel->width);
    g_autofree char *depth = flask_length(draft, channel->depth);
    g_autofree char *length = flask_length(
        draft, hypot(channel->x2 - channel->x1, channel->y2 - channel->y1));
    g_autofree char *words = g_strdup_printf(_("%s wide, %s deep, %s long"), width, depth, length);
    add_words(draft, id, label, figure, words);
}

static void
describe_riser(FlaskDraft *draft, guint i)
{
    const MouldLayout *l = draft->layout;
    const MouldRiser *riser = mould_layout_riser(l, i);
    g_autofree char *id = g_strdup_printf("riser-%u", i + 1);
    g_autofree char *label = g_strdup_printf(_("Riser of cavity %u"), i + 1);
    g_autofree char *diameter = flask_length(draft, riser->diameter);
    g_autofree char *height = flask_length(draft, riser->height);
    const MouldNeck *neck = mould_layout_neck(l, i);
    g_autofree char *wide = flask_length(draft, neck->width);
    g_autofree char *high = flask_length(draft, neck->up + neck->down);
    g_autofree char *base = flask_length(draft, riser->base);
    g_autofree char *words =
        riser->on_top
            ? g_strdup_printf(_("Diameter %s, %s high, stands on the casting %s over the parting"),
                              diameter, height, base)
            : g_strdup_printf(_("Diameter %s, %s high, neck %s by %s"), diameter, height, wide,
                              high);
    add_words(draft, id, label,
              l->cavities[i].guest ? "mould.guest_riser_volume" : "feed.riser_diameter", words);
}

static void
describe_tab(FlaskDraft *draft, guint i)
{
    const MouldTab *tab = &draft->layout->tabs[i];
    g_autofree char *id = g_strdup_printf("tab-%u", i + 1);
    g_autofree char *label = g_strdup_printf(_("Index tab %u"), i + 1);
    g_autofree char *length = flask_length(draft, tab->length);
    g_autofree char *width = flask_length(draft, tab->width > 0.0 ? tab->width : tab->length);
    g_autofree char *clearance = quantity_format(QUANTITY_LENGTH, draft->layout->tab_clearance,
                                                 draft->units);
    g_autofree char *words = g_strdup_printf(_("%s by %s, clearance %s all round"), length, width,
                                             clearance);
    add_words(draft, id, label, "mould.mismatch", words);
}

static void
describe_vent(FlaskDraft *draft, guint i)
{
    static const char *const why[] = {N_("a high point of cavity %u"), N_("the riser of cavity %u"),
                                      N_("cavity %u far from its gate")};
    const MouldVent *vent = &draft->layout->vents[i];
    g_autofree char *id = g_strdup_printf("vent-%u", i + 1);
    g_autofree char *label = g_strdup_printf(_("Vent %u"), i + 1);
    g_autofree char *diameter = flask_length(draft, vent->diameter);
    g_autofree char *depth = flask_length(draft, vent->depth);
    g_autofree char *x = flask_length(draft, vent->x);
    g_autofree char *y = flask_length(draft, vent->y);
    g_autofree char *over = g_strdup_printf(_(why[vent->kind]), vent->cavity + 1);
    g_autofree char *words = g_strdup_printf(_("%s wire, over %s; %s of sand there; at %s along "
                                               "and %s across"),
                                             diameter, over, depth, x, y);
    add_words(draft, id, label, "mould.vents", words);
}

static void
describe_cover(FlaskDraft *draft, const char *id, const char *label, const char *figure,
               double cover)
{
    g_autofree char *length = flask_length(draft, cover);
    g_autofree char *words = g_strdup_printf(_("%s of sand at the least"), length);
    add_words(draft, id, label, figure, words);
}

// Where the marks of the planes stand, as drawn.
static void
describe_cut(FlaskDraft *draft, const char *id, const char *label, double at, const char *format)
{
    g_autofree char *place = flask_length(draft, at);
    g_autofree char *words = g_strdup_printf(format, place);
    add_words(draft, id, label, NULL, words);
}

static void
describe_cuts(FlaskDraft *draft)
{
    const MouldLayout *l = draft->layout;
    if (!draft->marks)
        return;
    double along = draft->marks->along, across = draft->marks->across;
    if (!isfinite(along))
        along = l->n_cavities > 0 ? l->cavities[0].y : 0;
    if (!isfinite(across))
        across = l->n_cavities > 0 ? l->cavities[0].x : 0;
    describe_cut(draft, "cut-section", _("Plane of section A\u2013A"), along,
                 _("%s across the flask; drag it"));
    describe_cut(draft, "cut-across", _("Plane of section B\u2013B"), across,
                 _("%s along the flask; drag it"));
}

void
flask_describe(FlaskDraft *draft)
{
    const MouldLayout *l = draft->layout;
    describe_flask(draft);
    for (guint i = 0; i < l->n_cavities; i++) {
        describe_cavity(draft, i);
        describe_riser(draft, i);
    }
    describe_sprue(draft);
    for (guint i = 0; i < l->n_runners; i++) {
        g_autofree char *id = g_strdup_printf("runner-%u", i + 1);
        g_autofree char *label = g_strdup_printf(_("Runner %u"), i + 1);
        describe_channel(draft, id, label, "mould.choke_area", &l->runners[i]);
    }
    for (guint i = 0; i < l->n_gates; i++) {
        g_autofree char *id = g_strdup_printf("gate-%u", i + 1);
        g_autofree char *label = g_strdup_printf(_("Gate of cavity %u"), i + 1);
        describe_channel(draft, id, label, "mould.gate_velocity", &l->gates[i]);
    }
    for (guint i = 0; i < l->n_tabs; i++)
        describe_tab(draft, i);
    for (guint i = 0; i < l->n_vents; i++)
        describe_vent(draft, i);
    describe_cover(draft, "cover-wall", _("Sand to the wall"), "mould.sand_cover.wall",
                   l->cover_wall);
    describe_cover(draft, "cover-between", _("Sand between cavities"), "mould.sand_cover.between",
                   l->cover_between);
    describe_cover(draft, "cover-sprue", _("Sand to the sprue"), "mould.sand_cover.sprue",
                   l->cover_sprue);
    describe_cover(draft, "cover-runner", _("Sand to the runner"), "mould.sand_cover.runner",
                   l->cover_runner);
    describe_cover(draft, "cover-top", _("Sand above"), "mould.sand_cover.top", l->cover_top);
    describe_cover(draft, "cover-bottom", _("Sand below"), "mould.sand_cover.bottom",
                   l->cover_bottom);
    describe_cuts(draft);
}
