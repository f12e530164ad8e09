// SPDX-License-Identifier: GPL-3.0-or-later
// The draft of a flask drawing: lengths as text, heading, legend, scale bar. Everything is laid out
// in grains, which the painter keeps at SCENE_GRAIN_PX at least for text of full size.
#include "sketch/flask-kit.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#define TEXT_SIZE 11.0
#define TITLE_SIZE 15.0
#define FINENESS 0.01        // grains an outline may be off: a twentieth of a unit on a screen
#define CHARACTER_WIDTH 0.56 // of the size, about, for laying out the legend

void
flask_draft_start(FlaskDraft *draft, const MouldLayout *layout, const PatternResult *pattern,
                  const UnitSet *units, double longest, const char *title)
{
    draft->scene = scene_new(title);
    draft->layout = layout;
    draft->pattern = pattern;
    draft->units = units;
    draft->grain = longest > 0.0 && isfinite(longest) ? longest * FLASK_MM / 100.0 : 1.0;
    draft->wall = 2.5 * draft->grain;
    draft->half_length = layout->length * FLASK_MM / 2.0;
    draft->half_width = layout->width * FLASK_MM / 2.0;
    draft->marks = NULL;
    draft->outlines = NULL;
    draft->growth = 0.0;
    scene_set_grain(draft->scene, draft->grain);
}

static double
round_length(const FlaskDraft *draft, double metres)
{
    double step = draft->units->inches ? 25.4e-6 : 1e-4;
    return round(metres / step) * step;
}

char *
flask_length(const FlaskDraft *draft, double metres)
{
    return quantity_format(QUANTITY_LENGTH, round_length(draft, metres), draft->units);
}

// The unit is left out where it is the one the whole drawing is in.
char *
flask_length_number(const FlaskDraft *draft, double metres)
{
    g_autofree char *number = NULL, *unit = NULL;
    double rounded = round_length(draft, metres);
    quantity_format_parts(QUANTITY_LENGTH, rounded, draft->units, &number, &unit);
    if (g_strcmp0(unit, quantity_shop_unit(QUANTITY_LENGTH, draft->units)) == 0)
        return g_steal_pointer(&number);
    return quantity_format(QUANTITY_LENGTH, rounded, draft->units);
}

double
flask_growth(const FlaskDraft *draft)
{
    if (draft->growth > 0.0)
        return draft->growth;
    return draft->layout->growth > 0.0 ? draft->layout->growth : 1.0;
}

const PatternResult *
flask_take_cavity(FlaskDraft *draft, guint i)
{
    draft->growth = mould_layout_growth(draft->layout, i);
    return mould_layout_pattern(draft->layout, i, draft->pattern);
}

// The outline seen along the pull and what its lengths are to be multiplied by.
static const SolidOutline *
find_shadow(const FlaskDraft *draft, guint i, double *growth)
{
    const FlaskOutlines *o = draft->outlines;
    if (o && draft->layout->cavities[i].guest && o->guest)
        o = o->guest;
    const PatternResult *pattern = mould_layout_pattern(draft->layout, i, draft->pattern);
    gboolean plain = o && o->shadow;
    *growth = plain ? 1.0 : mould_layout_growth(draft->layout, i);
    return plain ? o->shadow : pattern ? pattern->shadow : NULL;
}

gboolean
flask_cavity_box(const FlaskDraft *draft, guint i, SolidPoint *min, SolidPoint *max)
{
    double growth;
    const SolidOutline *outline = find_shadow(draft, i, &growth);
    const MouldCavity *cavity = &draft->layout->cavities[i];
    if (!outline || outline->n_points == 0)
        return FALSE;
    double c = growth * cos(cavity->turn), s = growth * sin(cavity->turn);
    *min = (SolidPoint){INFINITY, INFINITY};
    *max = (SolidPoint){-INFINITY, -INFINITY};
    for (guint k = 0; k < outline->n_points; k++) {
        double x = cavity->x + c * outline->points[k].x - s * outline->points[k].y;
        double y = cavity->y + s * outline->points[k].x + c * outline->points[k].y;
        *min = (SolidPoint){fmin(min->x, x), fmin(min->y, y)};
        *max = (SolidPoint){fmax(max->x, x), fmax(max->y, y)};
    }
    return TRUE;
}

double
flask_half_chord(const MouldLayout *layout, double at)
{
    double r = layout->length / 2.0;
    return layout->round ? sqrt(fmax(0.0, r * r - at * at)) : r;
}

gboolean
flask_has_risers(const MouldLayout *layout)
{
    return layout->riser.diameter > 0.0 || layout->guest_riser.diameter > 0.0;
}

gboolean
flask_neck(const FlaskDraft *draft, guint i, MouldChannel *neck)
{
    const MouldLayout *l = draft->layout;
    const MouldCavity *c = &l->cavities[i];
    const MouldNeck *own = mould_layout_neck(l, i);
    if (!mould_layout_has_riser(l, i) || !(own->width > 0.0) || !isfinite(c->neck_x + c->neck_y))
        return FALSE;
    double x = c->neck_x - c->riser_x, y = c->neck_y - c->riser_y, away = hypot(x, y);
    double high = own->up + own->down;
    if (!(away > mould_layout_riser(l, i)->diameter / 2.0))
        return FALSE;
    // A little into the casting, whose edge is not square to the neck.
    double far = 1.0 + 0.15 * fmin(own->width, high) / away;
    *neck = (MouldChannel){c->riser_x,           c->riser_y, c->riser_x + far * x,
                           c->riser_y + far * y, own->width, high};
    return TRUE;
}

SolidOutline *
flask_plain(const FlaskDraft *draft, SolidOutline *outline)
{
    if (!outline)
        return NULL;
    SolidOutline *plain = solid_outline_simplified(outline, FINENESS * draft->grain / FLASK_MM);
    solid_outline_unref(outline);
    double growth = flask_growth(draft);
    for (guint i = 0; plain && i < plain->n_points; i++)
        plain->points[i] = (SolidPoint){growth * plain->points[i].x, growth * plain->points[i].y};
    return plain;
}

void
flask_dimension(FlaskDraft *draft, const char *part, double x1, double y1, double x2, double y2,
                double offset)
{
    double length = hypot(x2 - x1, y2 - y1);
    if (!isfinite(length) || length <= 0.0)
        return;
    g_autofree char *text = flask_length_number(draft, length / FLASK_MM);
    scene_add_dimension(draft->scene, FLASK_ORDER_DIMENSION, part, (SolidPoint){x1, y1},
                        (SolidPoint){x2, y2}, offset, text);
}

void
flask_text(FlaskDraft *draft, SceneRole role, double x, double y, double size, ShapeAlign align,
           gboolean strong, gboolean halo, const char *part, const char *text)
{
    Shape style = {.size = size, .align = align, .strong = strong, .halo = halo};
    scene_add_styled_text(draft->scene, role, FLASK_ORDER_TEXT, part, x, y, &style, text);
}

void
flask_heading(FlaskDraft *draft, double x, double y, const char *title, const char *below)
{
    double g = draft->grain;
    flask_text(draft, ROLE_TEXT, x, y + 6.0 * g, TITLE_SIZE, ALIGN_START, TRUE, FALSE, NULL, title);
    flask_text(draft, ROLE_DIMENSION, x, y + 1.5 * g, TEXT_SIZE, ALIGN_START, FALSE, FALSE, NULL,
               below);
}

// The largest of 1, 2, 5 times a power of ten below `most`, both in the shop's unit.
static double
choose_bar(double most)
{
    double power = pow(10.0, floor(log10(most)));
    double lead = most / power;
    return (lead >= 5.0 ? 5.0 : lead >= 2.0 ? 2.0 : 1.0) * power;
}

// Two cells, one filled, so that it reads as a scale and not as one more line.
static void
add_scale_bar(FlaskDraft *draft, double x, double y)
{
    double g = draft->grain;
    double per_unit = draft->units->inches ? 25.4 : 1.0;
    double bar = choose_bar(28.0 * g / per_unit) * per_unit;
    double height = 1.0 * g;
    scene_add_rectangle(draft->scene, ROLE_VISIBLE, FLASK_ORDER_LINE, NULL, FALSE, TRUE, x,
                        y - height / 2.0, bar, height);
    scene_add_rectangle(draft->scene, ROLE_VISIBLE, FLASK_ORDER_LINE, NULL, TRUE, FALSE, x,
                        y - height / 2.0, bar / 2.0, height);
    g_autofree char *length = flask_length(draft, bar / FLASK_MM);
    g_autofree char *note = g_strdup_printf("%s. %s", length,
                                            draft->units->inches ? _("Lengths in inches.")
                                                                 : _("Lengths in millimetres."));
    flask_text(draft, ROLE_DIMENSION, x + bar + 2.0 * g, y, TEXT_SIZE - 1.0, ALIGN_START, FALSE,
               FALSE, NULL, note);
}

static void
add_swatch(FlaskDraft *draft, const FlaskLegend *entry, double x, double y)
{
    double g = draft->grain;
    if (entry->line) {
        SolidPoint ends[] = {{x, y}, {x + 5.0 * g, y}};
        scene_add_line(draft->scene, entry->role, FLASK_ORDER_LINE, NULL, ends, 2);
    } else {
        scene_add_rectangle(draft->scene, entry->role, FLASK_ORDER_LINE, NULL, TRUE, TRUE, x,
                            y - 1.3 * g, 5.0 * g, 2.6 * g);
    }
}

void
flask_footing(FlaskDraft *draft, double x, double y, double width, const FlaskLegend *legend,
              guint n_legend)
{
    double g = draft->grain, at = x, size = TEXT_SIZE - 1.0;
    add_scale_bar(draft, x, y);
    y -= 5.5 * g;
    for (guint i = 0; i < n_legend; i++) {
        const char *word = _(legend[i].word);
        double words = (double)g_utf8_strlen(word, -1) * size * CHARACTER_WIDTH * g /
                       SCENE_GRAIN_PX;
        double entry = 6.2 * g + words + 2.5 * g;
        if (at > x && at + entry > x + width) {
            at = x;
            y -= 4.5 * g;
        }
        add_swatch(draft, &legend[i], at, y);
        flask_text(draft, ROLE_TEXT, at + 6.2 * g, y, size, ALIGN_START, FALSE, FALSE, NULL, word);
        at += entry;
    }
}
