// SPDX-License-Identifier: GPL-3.0-or-later
// The draft of a flask drawing: lengths as text, heading, legend, scale bar. Everything is laid out
// in grains, which the painter keeps at SCENE_GRAIN_PX at least for text of full size.
#include "sketch/flask-kit.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#define TEXT_SIZE 11.0
#define TITLE_SIZE 15.0
#define KEY_SIZE 10.0
#define FINENESS 0.01        // grains an outline may be off: a twentieth of a unit on a screen
#define CHARACTER_WIDTH 0.56 // of the size, about, for laying out the legend

// The place a drawing is laid out for, device units: the sketch of a window of 1280 by 800, less
// its margin.
#define PLACE_WIDTH 624.0
#define PLACE_HEIGHT 334.0
// In grains.
#define WALL 2.5
#define KEY_WIDTH 37.0
#define KEY_HEIGHT 16.0
#define KEY_ROW 4.5
#define KEY_INDENT 6.2 // from swatch to word

// The grain (mm) at which a drawing just fits the place in one direction.
static double
fit_grain(double metres, double grains, double place)
{
    double room = fmax(place - SCENE_GRAIN_PX * grains, 0.2 * place);
    return SCENE_GRAIN_PX * fmax(metres, 0.0) * FLASK_MM / room;
}

static double
choose_grain(const FlaskExtent *e, gboolean *beside)
{
    double walls = 2.0 * WALL;
    double wide = fit_grain(e->width, e->across + walls + KEY_WIDTH, PLACE_WIDTH);
    double high = fit_grain(e->height, e->down + walls, PLACE_HEIGHT);
    double wide_below = fit_grain(e->width, e->across + walls, PLACE_WIDTH);
    double high_below = fit_grain(e->height, e->down + walls + KEY_HEIGHT, PLACE_HEIGHT);
    double with_beside = fmax(wide, high), with_below = fmax(wide_below, high_below);
    *beside = with_beside < with_below;
    double grain = fmin(with_beside, with_below);
    return grain > 0.0 && isfinite(grain) ? grain : 1.0;
}

void
flask_draft_start(FlaskDraft *draft, const MouldLayout *layout, const PatternResult *pattern,
                  const UnitSet *units, const FlaskExtent *extent, const char *title)
{
    draft->scene = scene_new(title);
    draft->layout = layout;
    draft->pattern = pattern;
    draft->units = units;
    draft->grain = choose_grain(extent, &draft->beside);
    draft->wall = WALL * draft->grain;
    draft->half_length = layout->length * FLASK_MM / 2.0;
    draft->half_width = layout->width * FLASK_MM / 2.0;
    draft->marks = NULL;
    draft->outlines = NULL;
    draft->growth = 0.0;
    draft->field = NULL;
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

void
flask_vent_mark(FlaskDraft *d, const char *part, double x, double y, double radius)
{
    double r = 0.7 * radius;
    SolidPoint rise[] = {{x - r, y - r}, {x + r, y + r}};
    SolidPoint fall[] = {{x - r, y + r}, {x + r, y - r}};
    scene_add_circle(d->scene, ROLE_PAPER, FLASK_ORDER_LINE, part, TRUE, FALSE, x, y, radius);
    scene_add_circle(d->scene, ROLE_DIMENSION, FLASK_ORDER_LINE, part, FALSE, TRUE, x, y, radius);
    scene_add_line(d->scene, ROLE_DIMENSION, FLASK_ORDER_LINE, NULL, rise, 2);
    scene_add_line(d->scene, ROLE_DIMENSION, FLASK_ORDER_LINE, NULL, fall, 2);
}

// The largest of 1, 2, 5 times a power of ten below `most`, both in the shop's unit.
static double
choose_bar(double most)
{
    double power = pow(10.0, floor(log10(most)));
    double lead = most / power;
    return (lead >= 5.0 ? 5.0 : lead >= 2.0 ? 2.0 : 1.0) * power;
}

// Two cells, one filled, so that it reads as a scale and not as one more line. Its length stands to
// the right of it, the unit of all lengths with it or below. The lowest line's y.
static double
add_scale_bar(FlaskDraft *draft, double x, double y)
{
    double g = draft->grain;
    double per_unit = draft->units->inches ? 25.4 : 1.0;
    double bar = choose_bar((draft->beside ? 22.0 : 28.0) * g / per_unit) * per_unit;
    double height = 1.0 * g;
    scene_add_rectangle(draft->scene, ROLE_VISIBLE, FLASK_ORDER_LINE, NULL, FALSE, TRUE, x,
                        y - height / 2.0, bar, height);
    scene_add_rectangle(draft->scene, ROLE_VISIBLE, FLASK_ORDER_LINE, NULL, TRUE, FALSE, x,
                        y - height / 2.0, bar / 2.0, height);
    g_autofree char *length = flask_length(draft, bar / FLASK_MM);
    const char *unit = draft->units->inches ? _("Lengths in inches.")
                                            : _("Lengths in millimetres.");
    g_autofree char *note = g_strdup_printf("%s. %s", length, unit);
    flask_text(draft, ROLE_DIMENSION, x + bar + 2.0 * g, y, KEY_SIZE, ALIGN_START, FALSE, FALSE,
               NULL, draft->beside ? length : note);
    if (!draft->beside)
        return y;
    y -= KEY_ROW * g;
    flask_text(draft, ROLE_DIMENSION, x, y, KEY_SIZE, ALIGN_START, FALSE, FALSE, NULL, unit);
    return y;
}

static gboolean
is_drawn(const FlaskDraft *draft, SceneRole role)
{
    for (guint i = 0; i < scene_shape_count(draft->scene); i++)
        if (scene_shape(draft->scene, i)->role == role)
            return TRUE;
    return FALSE;
}

static void
add_entry(FlaskDraft *draft, const FlaskLegend *entry, double x, double y)
{
    double g = draft->grain;
    if (entry->kind == FLASK_KEY_VENT) {
        flask_vent_mark(draft, NULL, x + 2.5 * g, y, 0.8 * g);
    } else if (entry->kind == FLASK_KEY_LINE) {
        SolidPoint ends[] = {{x, y}, {x + 5.0 * g, y}};
        scene_add_line(draft->scene, entry->role, FLASK_ORDER_LINE, NULL, ends, 2);
    } else {
        scene_add_rectangle(draft->scene, entry->role, FLASK_ORDER_LINE, NULL, TRUE, TRUE, x,
                            y - 1.3 * g, 5.0 * g, 2.6 * g);
    }
    flask_text(draft, ROLE_TEXT, x + KEY_INDENT * g, y, KEY_SIZE, ALIGN_START, FALSE, FALSE, NULL,
               _(entry->word));
}

static void
add_key_below(FlaskDraft *draft, const FlaskKeyPlace *place, const FlaskLegend *legend,
              guint n_legend)
{
    double g = draft->grain, at = place->left;
    double y = add_scale_bar(draft, place->left, place->y) - 5.5 * g;
    for (guint i = 0; i < n_legend; i++) {
        double words = (double)g_utf8_strlen(_(legend[i].word), -1) * KEY_SIZE * CHARACTER_WIDTH *
                       g / SCENE_GRAIN_PX;
        double entry = KEY_INDENT * g + words + 2.5 * g;
        if (!is_drawn(draft, legend[i].role))
            continue;
        if (at > place->left && at + entry > place->right) {
            at = place->left;
            y -= KEY_ROW * g;
        }
        add_entry(draft, &legend[i], at, y);
        at += entry;
    }
}

void
flask_key(FlaskDraft *draft, const FlaskKeyPlace *place, const FlaskLegend *legend, guint n_legend)
{
    double g = draft->grain, y = place->top - 1.5 * g;
    if (!draft->beside) {
        add_key_below(draft, place, legend, n_legend);
        return;
    }
    for (guint i = 0; i < n_legend; i++) {
        if (!is_drawn(draft, legend[i].role))
            continue;
        add_entry(draft, &legend[i], place->x, y);
        y -= KEY_ROW * g;
    }
    add_scale_bar(draft, place->x, y - 1.0 * g);
}
