// SPDX-License-Identifier: GPL-3.0-or-later
// Bodies by cause and planes through them, against closed forms and against the volumes the
// envelope measures on its surfaces.
#include "part/cause-cut.h"

#include "check.h"
#include "shapes.h"
#include "solid/overlap.h"

#define MM 1e-3
#define DEGREE (G_PI / 180)

typedef struct {
    PatternResult *pattern;
    EnvelopeResult envelope;
    CauseCut cut;
} Made;

static Made
make(const SolidMesh *mesh, EnvelopeOptions options)
{
    Made m = {0};
    g_autoptr(GError) error = NULL;
    PartResult part = {.mesh = (SolidMesh *)mesh};
    SolidOverlap overlap;
    solid_overlap(mesh, &overlap, NULL, &error);
    g_assert_no_error(error);
    part.measure.volume = solid_measure(mesh).volume - overlap.excess;
    part.check.closed = TRUE;
    Vec3 up = vec3(0, 0, 1);
    m.pattern = pattern_make(&part, &options, up, &m.envelope, NULL, &error);
    g_assert_no_error(error);
    return m;
}

static void
cut_at(Made *m, int axis, double at)
{
    cause_cut_clear(&m->cut);
    m->cut = cause_cut(m->pattern, axis, at);
}

static void
made_clear(Made *m)
{
    cause_cut_clear(&m->cut);
    pattern_result_unref(m->pattern);
    envelope_result_clear(&m->envelope);
}

// A box with allowance a has edges of radius a, and the draft's face touches the upper edge where
// it leans by the draft: from there a level outline at height z stands
//   a / cos(draft) + (top - a - z) tan(draft)
// off the box.
static const double X = 43.7 * MM, Y = 31.3 * MM, Z = 23.9 * MM, A = 1.3 * MM, DRAFT = 2.5 * DEGREE;

static Made
make_box(void)
{
    g_autoptr(SolidMesh) box = check_mesh_box(X, Y, Z);
    return make(box, (EnvelopeOptions){.allowance = A, .draft = DRAFT, .cells = 110});
}

static double
standing_off(double depth, double z)
{
    return A / cos(DRAFT) + (depth - A - z) * tan(DRAFT);
}

static void
test_level(void)
{
    Made m = make_box();
    const double heights[] = {-7.13 * MM, 0.71 * MM, 5.37 * MM};
    for (guint i = 0; i < G_N_ELEMENTS(heights); i++) {
        double z = heights[i];
        cut_at(&m, 2, z);
        double depth = z > 0 ? m.pattern->height_cope : m.pattern->height_drag;
        double off = standing_off(depth, fabs(z));
        double part = X * Y, allowance = 2 * A * (X + Y) + G_PI * A * A;
        double all = X * Y + 2 * off * (X + Y) + G_PI * off * off;
        check_close(m.cut.area[CAUSE_PART], part, 1e-9, "rectangle");
        check_close(m.cut.area[CAUSE_ALLOWANCE] / all, allowance / all, 5e-3, "rounded rectangle");
        check_close((m.cut.area[CAUSE_DRAFT] - (all - part - allowance)) / all, 0, 4e-3,
                    "rectangle grown by the taper");
        g_assert_cmpfloat(m.cut.area[CAUSE_UNDERCUT], ==, 0);
        g_assert_cmpfloat(m.cut.area[CAUSE_STUB], ==, 0);
    }
    made_clear(&m);
}

// Upright through the middle: two trapezoids and what lies between edge and taper, each side.
static void
test_upright(void)
{
    Made m = make_box();
    cut_at(&m, 1, 0.83 * MM);
    double area = 0, top = A * sin(DRAFT);
    const double depths[] = {m.pattern->height_cope, m.pattern->height_drag};
    for (int i = 0; i < 2; i++) {
        double h = depths[i] - A;
        double below = (A / cos(DRAFT) - A) * h + h * h * tan(DRAFT) / 2;
        double line = A / cos(DRAFT) * top - tan(DRAFT) * top * top / 2;
        double arc = A * A / 2 * (DRAFT + sin(DRAFT) * cos(DRAFT));
        area += 2 * (below + line - arc);
    }
    double whole = X * Z + 2 * A * (X + Z) + G_PI * A * A + area;
    check_close(m.cut.area[CAUSE_PART], X * Z, 1e-9, "rectangle");
    check_close(m.cut.area[CAUSE_ALLOWANCE], 2 * A * (X + Z) + G_PI * A * A, 1e-2,
                "rounded rectangle");
    check_close((m.cut.area[CAUSE_DRAFT] - area) / whole, 0, 4e-3, "trapezoids");
    check_close(solid_outline_area(m.pattern->side[1]), whole, 4e-3, "seen along y: the same");
    made_clear(&m);
}

static void
test_at(void)
{
    Made m = make_box();
    double thick, z = 1.9 * MM;
    cut_at(&m, 2, z);
    g_assert_cmpint(cause_cut_at(&m.cut, (SolidPoint){1.3 * MM, 2.1 * MM}, &thick), ==, CAUSE_PART);
    check_close(thick, Y, 5e-3, "the box's width");
    SolidPoint p = {3.1 * MM, Y / 2 + 0.45 * A};
    g_assert_cmpint(cause_cut_at(&m.cut, p, &thick), ==, CAUSE_ALLOWANCE);
    check_close(thick, A, 2e-2, "allowance");
    double off = standing_off(m.pattern->height_cope, z);
    p.y = -Y / 2 - A - 0.5 * (off - A);
    g_assert_cmpint(cause_cut_at(&m.cut, p, &thick), ==, CAUSE_DRAFT);
    check_close(thick - (off - A), 0, 0.05 * MM, "taper at this height");
    p.y = -Y / 2 - off - 0.4 * MM;
    g_assert_cmpint(cause_cut_at(&m.cut, p, NULL), ==, CAUSE_COUNT);
    cut_at(&m, 2, 50 * MM);
    g_assert_cmpint(cause_cut_at(&m.cut, (SolidPoint){0, 0}, &thick), ==, CAUSE_COUNT);
    g_assert_cmpfloat(m.cut.area[CAUSE_DRAFT], ==, 0);
    made_clear(&m);
}

static double
body_volume(const PatternResult *p, int cause)
{
    if (cause == CAUSE_DRAFT)
        return solid_grid_volume(p->casting, 0);
    if (cause == CAUSE_PART)
        return solid_grid_volume(p->part_distance, 0);
    g_autoptr(SolidGrid) body = cause_bodies_grid(p->bodies, (Cause)cause);
    return body ? solid_grid_volume(body, 0) : NAN;
}

// What lies between one body and the next is what the figures say, and no body leaves the next.
static void
check_bodies(const Made *m, double share)
{
    const PatternResult *p = m->pattern;
    double before = 0, sum = 0;
    const gint8 *inner = NULL;
    gsize n = (gsize)p->bodies->nx * p->bodies->ny * p->bodies->nz;
    for (int c = 0; c < CAUSE_COUNT; c++) {
        sum += p->cause_volume[c];
        double volume = body_volume(p, c);
        if (isnan(volume)) {
            g_assert_cmpfloat(fabs(p->cause_volume[c]), <, 1e-5 * p->volume);
            continue;
        }
        check_close((volume - before - p->cause_volume[c]) / p->volume, 0, share,
                    "envelope's surfaces");
        before = volume;
        const gint8 *body = p->bodies->body[c];
        for (gsize i = 0; body && inner && i < n; i++)
            if (body[i] > inner[i])
                g_assert_cmpint(body[i], <=, inner[i]);
        inner = body ? body : inner;
    }
    check_close(sum, p->volume, 1e-9, "the causes make up the casting");
}

static void
test_volumes(void)
{
    const ShapeClevis c = {7.3 * MM, 11.9 * MM, 23.7 * MM, 31.1 * MM, 8.9 * MM, 1.7 * MM, 9.7 * MM};
    g_autoptr(SolidMesh) clevis = shape_clevis(&c, 48);
    Made m = make(clevis, (EnvelopeOptions){.allowance = 1.1 * MM,
                                            .draft = 1.7 * DEGREE,
                                            .stub_diameter = 12.3 * MM,
                                            .stub_height = 14.9 * MM,
                                            .fillet = 2.3 * MM,
                                            .cells = 110});
    for (int i = 0; i < 2; i++) // allowance and fillet, an undercut and a stub
        g_assert_cmpfloat(m.pattern->cause_volume[i ? CAUSE_UNDERCUT : CAUSE_FILLET], >, 0);
    check_bodies(&m, 6e-3);
    // Wherever it is cut, no cause takes away.
    for (int axis = 0; axis < 3; axis++)
        for (int i = -4; i <= 4; i++) {
            cut_at(&m, axis, 2.93 * MM * i);
            double all = 0;
            for (int k = 0; k < CAUSE_COUNT; k++)
                all += m.cut.area[k];
            for (int k = 0; k < CAUSE_COUNT; k++)
                g_assert_cmpfloat(m.cut.area[k], >=, -5e-3 * all);
        }
    made_clear(&m);
}

static void
test_holes_and_walls(void)
{
    g_autoptr(SolidMesh) plate = check_mesh_blind_plate(47.9 * MM, 39.3 * MM, 13.7 * MM, 3.1 * MM,
                                                        8.3 * MM, 48);
    Made m = make(plate, (EnvelopeOptions){.draft = 1.9 * DEGREE,
                                           .close_holes = 7.1 * MM,
                                           .min_wall = 6.7 * MM,
                                           .cells = 110});
    g_assert_null(m.pattern->bodies->body[CAUSE_ALLOWANCE]);
    g_assert_null(m.pattern->bodies->body[CAUSE_STUB]);
    check_bodies(&m, 6e-3);
    cut_at(&m, 2, m.pattern->height_cope - 1.9 * MM);
    g_assert_cmpint(cause_cut_at(&m.cut, (SolidPoint){0.2 * MM, 0.1 * MM}, NULL), ==, CAUSE_CLOSED);
    check_close(m.cut.area[CAUSE_CLOSED], G_PI * pow(3.1 * MM, 2), 0.03, "the hole");
    made_clear(&m);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/part/cause/level", test_level);
    g_test_add_func("/part/cause/upright", test_upright);
    g_test_add_func("/part/cause/at", test_at);
    g_test_add_func("/part/cause/volumes", test_volumes);
    g_test_add_func("/part/cause/holes-and-walls", test_holes_and_walls);
    return g_test_run();
}
