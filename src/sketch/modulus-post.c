// SPDX-License-Identifier: GPL-3.0-or-later
// Riser, neck and chill in the modulus view, and the modulus of the riser.
#include <glib/gi18n-lib.h>
#include <math.h>

#include "sketch/modulus-kit.h"

#define TEXT_SIZE 11.0
#define ABOVE 9.0 // grains there are over the casting for what is higher

SolidPoint
modulus_place(const ModulusDraft *m, double u, double v)
{
    const CastingSheet *s = &m->d.sheet;
    return (SolidPoint){s->section.x + u * CASTING_MM, s->section.y + v * CASTING_MM};
}

SolidPoint
modulus_in_plane(const CastingPlane *plane, Vec3 p)
{
    return plane->axis == 0   ? (SolidPoint){p.y, p.z}
           : plane->axis == 1 ? (SolidPoint){p.x, p.z}
                              : (SolidPoint){p.x, p.y};
}

// A point of the flask in the axes of the cold casting at a cavity, z left out.
static SolidPoint
into_casting(const MouldCavity *c, double x, double y, double growth)
{
    double cs = cos(c->turn) / growth, sn = sin(c->turn) / growth, dx = x - c->x, dy = y - c->y;
    return (SolidPoint){cs * dx + sn * dy, cs * dy - sn * dx};
}

ModulusPost
modulus_post(const FeedResult *feed, const MouldLayout *l)
{
    double growth = l && l->growth > 0 ? l->growth : 1;
    ModulusPost p = {.growth = growth,
                     .radius = feed->diameter / 2 / growth,
                     .low = feed->base / growth,
                     .high = (feed->base + feed->height) / growth,
                     .x = feed->x / growth,
                     .y = feed->y / growth,
                     .beside = !feed->on_top};
    if (feed->risers == 0 || !(feed->diameter > 0))
        p.radius = 0;
    if (!p.beside || !(p.radius > 0))
        return p;
    if (!l || l->n_cavities == 0 || l->cavities[0].guest || !mould_layout_has_riser(l, 0)) {
        p.radius = 0;
        return p;
    }
    const MouldCavity *c = &l->cavities[0];
    SolidPoint at = into_casting(c, c->riser_x, c->riser_y, growth);
    SolidPoint joint = into_casting(c, c->neck_x, c->neck_y, growth);
    p.x = at.x;
    p.y = at.y;
    p.joint_x = joint.x;
    p.joint_y = joint.y;
    p.neck_width = l->neck.width / growth;
    p.neck_up = l->neck.up / growth;
    p.neck_down = l->neck.down / growth;
    return p;
}

CastingSheet
modulus_sheet(const PatternResult *pattern, const CastingPlane *plane, const ModulusPost *post)
{
    double r = post->radius;
    if (!post->beside || !(r > 0))
        return casting_sheet(pattern, plane->axis);
    SolidPoint at = modulus_in_plane(plane, vec3(post->x, post->y, 0));
    double up = plane->axis == 2 ? r : 0; // what is higher is cut off instead
    return casting_sheet_wide(pattern, plane->axis, (SolidPoint){at.x - r, at.y - up},
                              (SolidPoint){at.x + r, at.y + up});
}

// The box between two heights over a stretch of the plane.
static void
draw_box(ModulusDraft *m, SceneRole role, const char *id, gboolean cut, double u1, double u2,
         double low, double high)
{
    SolidPoint a = modulus_place(m, u1, low), b = modulus_place(m, u2, high);
    if (!(b.x > a.x) || !(b.y > a.y))
        return;
    scene_add_rectangle(m->d.scene, cut ? role : ROLE_HIDDEN, CASTING_ORDER_BEYOND, id, cut, TRUE,
                        a.x, a.y, b.x - a.x, b.y - a.y);
}

void
modulus_draw_chill(ModulusDraft *m)
{
    const FeedChill *c = &m->feed->chill;
    double scale = 1 / m->post.growth, half = c->width / 2 * scale;
    double low = (c->in_cope ? c->face : c->face - c->thickness) * scale;
    double high = low + c->thickness * scale;
    if (!(c->width > 0))
        return;
    Vec3 middle = vec3(c->x * scale, c->y * scale, 0);
    SolidPoint p = modulus_in_plane(&m->plane, middle);
    double off = m->plane.axis == 0 ? middle.x : middle.y;
    if (m->plane.axis == 2 && m->plane.at >= low && m->plane.at <= high)
        draw_box(m, ROLE_FLASK, "chill", TRUE, p.x - half, p.x + half, p.y - half, p.y + half);
    else if (m->plane.axis != 2 && fabs(off - m->plane.at) < half)
        draw_box(m, ROLE_FLASK, "chill", TRUE, p.x - half, p.x + half, low, high);
    g_autofree char *words = casting_length(m->d.units, c->width);
    scene_add_part(m->d.scene, "chill", _("Chill"), words, "feed.chilled_modulus");
}

// The neck's axis from the riser's middle to the casting, and whether there is one. The riser is
// drawn over its upper half; the lower begins there.
static gboolean
find_neck(const ModulusPost *p, SolidPoint *from, SolidPoint *way, double *length)
{
    double dx = p->joint_x - p->x, dy = p->joint_y - p->y;
    *length = hypot(dx, dy);
    if (!(p->neck_width > 0) || !(*length > p->radius))
        return FALSE;
    *way = (SolidPoint){dx / *length, dy / *length};
    *from = (SolidPoint){p->x, p->y};
    return TRUE;
}

// From above: a bar from the riser to the casting, and a disc.
static void
draw_level(ModulusDraft *m)
{
    const ModulusPost *p = &m->post;
    double at = m->plane.at, length, half = p->neck_width / 2;
    gboolean cut = at >= p->low && at <= p->high;
    SolidPoint from, way, middle = modulus_place(m, p->x, p->y);
    if (find_neck(p, &from, &way, &length)) {
        gboolean through = at >= -p->neck_down && at <= p->neck_up;
        SolidPoint to = {p->joint_x, p->joint_y}, side = {-half * way.y, half * way.x};
        SolidPoint corners[] = {modulus_place(m, from.x + side.x, from.y + side.y),
                                modulus_place(m, from.x - side.x, from.y - side.y),
                                modulus_place(m, to.x - side.x, to.y - side.y),
                                modulus_place(m, to.x + side.x, to.y + side.y)};
        scene_add_polygon(m->d.scene, through ? ROLE_RISER : ROLE_HIDDEN, CASTING_ORDER_BEYOND,
                          "riser", through, TRUE, corners, 4);
    }
    scene_add_circle(m->d.scene, cut ? ROLE_RISER : ROLE_HIDDEN, CASTING_ORDER_BEYOND, "riser", cut,
                     TRUE, middle.x, middle.y, p->radius * CASTING_MM);
}

// From the side: the box the bar fills.
static void
draw_neck(ModulusDraft *m)
{
    const ModulusPost *p = &m->post;
    gboolean along = m->plane.axis == 1;
    double length, half = p->neck_width / 2;
    SolidPoint from, way;
    if (!find_neck(p, &from, &way, &length))
        return;
    double u1 = along ? from.x : from.y, u2 = along ? p->joint_x : p->joint_y;
    double off1 = along ? from.y : from.x, off2 = along ? p->joint_y : p->joint_x;
    double wide = half * fabs(along ? way.y : way.x), deep = half * fabs(along ? way.x : way.y);
    gboolean cut = m->plane.at > fmin(off1, off2) - deep && m->plane.at < fmax(off1, off2) + deep;
    draw_box(m, ROLE_RISER, "riser", cut, fmin(u1, u2) - wide, fmax(u1, u2) + wide, -p->neck_down,
             p->neck_up);
}

// Up to where the riser is drawn: what is higher than the sheet has room for is cut off.
static double
drawn_top(const ModulusDraft *m)
{
    const CastingSheet *s = &m->d.sheet;
    return fmin(m->post.high, s->max.y + ABOVE * s->grain / CASTING_MM);
}

void
modulus_draw_post(ModulusDraft *m)
{
    const ModulusPost *p = &m->post;
    if (!(p->radius > 0))
        return;
    if (m->plane.axis == 2) {
        draw_level(m);
        return;
    }
    gboolean along = m->plane.axis == 1;
    double u = along ? p->x : p->y, off = (along ? p->y : p->x) - m->plane.at;
    gboolean cut = fabs(off) < p->radius;
    draw_neck(m);
    draw_box(m, ROLE_RISER, "riser", cut, u - p->radius, u + p->radius, p->low, drawn_top(m));
}

// The letter of its row, in the riser.
static void
label_post(ModulusDraft *m)
{
    const ModulusPost *p = &m->post;
    if (!(p->radius > 0))
        return;
    Vec3 middle = vec3(p->x, p->y, (p->low + drawn_top(m)) / 2);
    SolidPoint in = modulus_in_plane(&m->plane, middle), at = modulus_place(m, in.x, in.y);
    Shape style = {.size = TEXT_SIZE, .align = ALIGN_MIDDLE, .strong = TRUE, .halo = TRUE};
    scene_add_styled_text(m->d.scene, ROLE_TEXT, CASTING_ORDER_TEXT, "riser", at.x, at.y, &style,
                          "R");
}

void
modulus_tell_post(ModulusDraft *m, double y)
{
    const FeedResult *f = m->feed;
    double g = m->d.sheet.grain, left = CASTING_COLUMN * g;
    if (f->risers == 0 || !(f->modulus > 0))
        return;
    g_autofree char *size = casting_length(m->d.units, f->modulus);
    g_autofree char *diameter = casting_length(m->d.units, f->diameter);
    g_autofree char *words = g_strdup_printf(_("modulus %s, diameter %s"), size, diameter);
    y -= MODULUS_ROW * g;
    casting_text(&m->d, ROLE_TEXT, left, y, TEXT_SIZE, ALIGN_START, TRUE, "riser", "R");
    casting_text(&m->d, ROLE_TEXT, left + 4 * g, y, TEXT_SIZE, ALIGN_START, FALSE, "riser", size);
    casting_text(&m->d, ROLE_DIMENSION, CASTING_EDGE * g, y, TEXT_SIZE, ALIGN_END, FALSE, "riser",
                 _("riser, as moulded"));
    scene_add_part(m->d.scene, "riser", _("Riser"), words, "feed.riser_drawn_modulus");
    label_post(m);
}
