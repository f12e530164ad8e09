// SPDX-License-Identifier: GPL-3.0-or-later
// Arranging cavities along a runner, and the search over the ways to do it.
#include "mould/place.h"

#include <math.h>

#include "mould/runner.h"

#define MOST_COLUMNS 64
#define MOST_ROUNDS 300

// m of more sand than is asked for, between where there is room: the facets of a skin need not keep
// to the outline that rows are made with. Any more would only make runners and gates longer.
#define SPARE_SAND 3e-4

#define SAME_TURN 1e-6   // rad
#define NEARLY_NECK 0.91 // of its modulus; necks are drawn a tenth heavier than they have to be

// Share of the metal an odd angle has to save where it holds no more cavities.
#define ODD_SAVING 0.02

typedef struct {
    double front, back; // v reach of the cavity from its middle; front faces the runner
    double bare;        // of the casting without its riser
    double riser_u, riser_v, riser_r; // from the gate along u, from the row's foremost; 0 without
    double left, right;               // u reach of cavity with riser
    double pitch;                     // least, between columns
    double width;                     // of the cavity along the runner
    double attach_u, attach_v;
    double side; // that the gate enters
    double flask_u, flask_v;
} Frame;

static MouldStance
stance_of_box(const MouldWish *wish, int quarter)
{
    double u = (quarter ? wish->box_y : wish->box_x) / 2;
    double v = (quarter ? wish->box_x : wish->box_y) / 2;
    return (MouldStance){.left = u, .right = u, .front = v, .back = v, .bare = v};
}

double
mould_place_share(const MouldWish *wish)
{
    const MouldOwnRiser *own = &wish->own;
    double high = MAX(wish->above, MAX(wish->riser_height, own->beside ? own->height : 0));
    double lean = high * tan(wish->wall_draft);
    if (own->height > 0 && !own->beside)
        lean = MAX(lean, (own->base + own->height) * tan(wish->wall_draft) - MAX(0, own->within));
    return wish->cover_wall / cos(wish->wall_draft) + lean;
}

static Frame
frame_of(const MouldWish *wish, const MouldWay *way)
{
    Frame f = {0};
    gboolean boxed = wish->n_stances <= way->quarter;
    MouldStance stance = boxed ? stance_of_box(wish, way->quarter) : wish->stances[way->quarter];
    f.front = stance.front;
    f.back = stance.back;
    f.bare = stance.bare;
    f.width = stance.left + stance.right;
    f.attach_u = wish->attach_u[way->quarter];
    f.attach_v = wish->attach_v[way->quarter];
    double r = wish->riser_diameter / 2;
    f.riser_r = r > 0 ? r : stance.riser_r;
    f.riser_u = r > 0 ? 0 : stance.riser_u - f.attach_u;
    f.riser_v = r > 0 ? r : stance.riser_v + f.front;
    f.left = MAX(stance.left, r - f.attach_u);
    f.right = MAX(stance.right, r + f.attach_u);
    f.pitch = boxed ? f.left + f.right + wish->cover_between : stance.pitch;
    if (way->rows == 2) {
        // The row opposite is turned by half a turn about its gates, so both reaches count.
        double half = MAX(f.left + f.attach_u, f.right - f.attach_u);
        f.left = half - f.attach_u;
        f.right = half + f.attach_u;
    }
    f.side = r > 0 ? 2 * r : stance.hot ? 2 * stance.riser_r : f.width;
    f.flask_u = way->axis ? wish->width : wish->length;
    f.flask_v = way->axis ? wish->length : wish->width;
    return f;
}

static double
neck_gap(const MouldWish *wish)
{
    return 0.5 * wish->neck;
}

// Places along u: pitch, the columns' middle, the sprue, and the reach of the runner's arms. An odd
// number of columns would put a gate straight under the sprue, so it stands beside the middle one.
static void
place_along(const MouldWish *wish, const MouldWay *way, const Frame *f, MouldPlace *p)
{
    const MouldPour *pour = &p->pour;
    int n = way->columns;
    double pitch = MAX(f->pitch, mould_pour_room(pour));
    double used = f->left + f->right + (n - 1) * pitch + 2 * mould_place_share(wish);
    double slack = wish->round ? 0 : MAX(0, f->flask_u - used);
    p->pitch = pitch + MIN(SPARE_SAND, slack / (n + 1));
    p->middle = (f->left - f->right) / 2;
    double first = p->middle - (n - 1) * p->pitch / 2 + f->attach_u;
    double last = first + (n - 1) * p->pitch;
    if (n == 1)
        p->sprue = first - MAX(f->width / 4, pour->well / 2 + pour->gate_width / 2 + 0.005);
    else
        p->sprue = n % 2 ? first + (n / 2 - 0.5) * p->pitch : (first + last) / 2;
    // Beyond the last gate the runner goes on, to keep the first cold metal.
    double past = pour->gate_width / 2 + pour->runner;
    double start = n == 1 ? p->sprue - MAX(pour->well, pour->sprue_top) / 2 : first - past;
    double low = MIN(first - f->attach_u - f->left, start);
    double high = MAX(last - f->attach_u + f->right, last + past);
    p->need_u = MAX(used, high - low + 2 * mould_place_share(wish));
    p->middle -= (low + high) / 2;
    p->sprue -= (low + high) / 2;
}

// v that keeps a point `reach` away from the sprue's middle when it lies `aside` along u.
static double
past_sprue(double reach, double aside)
{
    return sqrt(MAX(0, reach * reach - aside * aside));
}

// How far a row's foremost has to stand from the runner's middle: the sand away from the runner
// all along, and from sprue and well where those are. A sprue that a person put may be anywhere.
static double
row_front(const MouldWish *wish, const MouldWay *way, const Frame *f, const MouldPlace *p,
          double riser)
{
    double runner = mould_runner_widest(wish, way, &p->pour) / 2, cover = wish->cover_runner;
    double reach = MAX(p->pour.well, p->pour.sprue_top) / 2 + cover + SPARE_SAND;
    double front = runner + cover + SPARE_SAND, deep = riser + f->front - f->bare;
    if (wish->sprue_put)
        return MAX(front, reach);
    double first = p->middle - (way->columns - 1) * p->pitch / 2 + f->attach_u - p->sprue;
    for (int i = 0; i < way->columns; i++) {
        double gate = first + i * p->pitch;
        // The row opposite has its risers the other way from their gates.
        for (int side = 1; side >= 3 - 2 * way->rows && f->riser_r > 0; side -= 2)
            front = MAX(front,
                        past_sprue(reach + f->riser_r, gate + side * f->riser_u) - f->riser_v);
        double low = gate - f->attach_u - f->left, high = gate - f->attach_u + f->right;
        front = MAX(front, past_sprue(reach, MAX(0, MAX(low, -high))) - deep);
    }
    return front;
}

// Places across: runner, riser and cavity, and what all of it needs.
static void
place_across(const MouldWish *wish, const MouldWay *way, const Frame *f, MouldPlace *p)
{
    const MouldPour *pour = &p->pour;
    double widest = mould_runner_widest(wish, way, pour);
    double half = MAX(widest, MAX(pour->well, pour->sprue_top)) / 2;
    double riser = wish->riser_diameter > 0 ? wish->riser_diameter + neck_gap(wish) : 0;
    double front = row_front(wish, way, f, p, riser);
    double row = front + riser + f->front + f->back;
    double used = way->rows == 2 ? 2 * (row + mould_place_share(wish))
                                 : half + row + 2 * mould_place_share(wish);
    p->riser_v = front + wish->riser_diameter / 2;
    p->cavity_v = front + riser + f->front;
    p->runner_v = way->rows == 2 ? 0 : (half - row) / 2;
    p->need_v = used;
}

static double
cylinder(double diameter, double height)
{
    return G_PI / 4 * diameter * diameter * height;
}

// Length of an own riser's neck.
static double
own_neck(const MouldWish *wish)
{
    const MouldOwnRiser *o = &wish->own;
    return o->beside ? hypot(o->joint_x - o->x, o->joint_y - o->y) - o->diameter / 2 : 0;
}

// All metal of the flask, as drawn.
static double
metal_volume(const MouldWish *wish, const MouldWay *way, const Frame *f, MouldPlace *p)
{
    MouldPour *pour = &p->pour;
    int n = way->rows * way->columns;
    double inset = f->attach_v + f->front; // from the box's edge to the casting
    double each = wish->cavity_volume;
    double gate_to;
    if (wish->riser_diameter > 0) {
        each += cylinder(wish->riser_diameter, wish->riser_height);
        each += mould_neck_volume(&p->neck, neck_gap(wish) + inset, wish->riser_diameter / 2);
        gate_to = p->riser_v - wish->riser_diameter / 2;
    } else {
        each += cylinder(wish->own.diameter, wish->own.height);
        each += mould_neck_volume(&p->neck, own_neck(wish), wish->own.diameter / 2);
        gate_to = p->cavity_v - f->front + inset;
    }
    // The gate lies on the runner, in the other half of the mould, from its middle line.
    each += pour->gate_width * pour->gate_depth * gate_to;
    double top = pour->sprue_top, bottom = pour->sprue_bottom;
    double sprue = G_PI / 12 * wish->cope * (top * top + top * bottom + bottom * bottom);
    double first = p->middle - (way->columns - 1) * p->pitch / 2 + f->attach_u, modulus;
    double runners = mould_runner_volume(wish, way, p, first, &modulus);
    pour->channel = MIN(pour->channel, modulus);
    return n * each + sprue + cylinder(pour->basin, wish->basin_height) +
           cylinder(pour->well, pour->well_depth) + runners;
}

double
mould_neck_volume(const MouldNeck *neck, double length, double radius)
{
    return neck->width * (neck->up * length + neck->down * (length + radius));
}

MouldNeck
mould_place_neck_within(const MouldWish *wish, double above, double below, double width)
{
    MouldNeck n = {
        .joint_above = above, .joint_below = below, .joint_width = width > 0 ? width : INFINITY};
    double widest = wish->own.beside ? wish->own.diameter : wish->riser_diameter;
    if (!(widest > 0 && wish->neck > 0))
        return (MouldNeck){0};
    double height = MIN(wish->neck, n.joint_above + n.joint_below);
    n.down = MIN(n.joint_below, height - MIN(n.joint_above, height / 2));
    n.up = height - n.down;
    widest = MIN(widest, n.joint_width);
    n.width = MIN(widest, height * wish->neck / MAX(2 * height - wish->neck, MOULD_NECK_SPARE));
    return n;
}

MouldNeck
mould_place_neck(const MouldWish *wish, int quarter)
{
    return mould_place_neck_within(wish, wish->joint_above[quarter], wish->joint_below[quarter],
                                   wish->joint_width[quarter]);
}

static double
turn_between(const MouldWish *wish, double turn, int way)
{
    return fabs(remainder(turn - mould_place_turn(wish, way), 2 * G_PI));
}

int
mould_place_nearest(const MouldWish *wish, double turn)
{
    int best = 0, n = wish->n_stances > 0 ? wish->n_stances : 2;
    for (int i = 1; i < n; i++)
        if (turn_between(wish, turn, i) < turn_between(wish, turn, best))
            best = i;
    return best;
}

gboolean
mould_place_has_neck(const MouldWish *wish, double turn)
{
    int way = mould_place_nearest(wish, turn);
    if (!(wish->riser_diameter > 0) || turn_between(wish, turn, way) > SAME_TURN)
        return TRUE;
    MouldNeck n = mould_place_neck(wish, way);
    double high = n.up + n.down;
    return n.width * high / (2 * (n.width + high)) >= NEARLY_NECK * wish->neck / 4;
}

// A round flask has to reach beyond the corners of the outer cavities' boxes.
static void
need_of_round(const MouldWish *wish, const MouldWay *way, const Frame *f, MouldPlace *p)
{
    double last = (way->columns - 1) * p->pitch / 2, share = mould_place_share(wish);
    double inner = p->cavity_v - f->front, outer = p->cavity_v + f->back, far = 0;
    if (wish->riser_diameter > 0)
        inner = p->riser_v - wish->riser_diameter / 2;
    for (int row = 0; row < way->rows; row++) {
        int side = row == 0 ? 1 : -1;
        double middle = p->middle + (side < 0 ? 2 * f->attach_u : 0);
        double left = middle - last - (side < 0 ? f->right : f->left);
        double right = middle + last + (side < 0 ? f->left : f->right);
        double u = MAX(fabs(left), fabs(right));
        far = MAX(far, hypot(u, p->runner_v + side * outer));
        far = MAX(far, hypot(u, p->runner_v + side * inner));
    }
    double ends = p->need_u / 2 - share; // of the runner
    far = MAX(far, hypot(ends, fabs(p->runner_v) + p->pour.runner / 2));
    p->need_u = p->need_v = 2 * (far + share);
}

MouldPlace
mould_place_solve(const MouldWish *wish, const MouldWay *way)
{
    MouldPlace p = {0};
    Frame f = frame_of(wish, way);
    p.neck = mould_place_neck(wish, way->quarter);
    int n = way->rows * way->columns;
    int arms = way->columns > 1 ? 2 : 1;
    double volume = n * wish->cavity_volume;
    double apart = way->columns > 1 ? f.pitch : INFINITY;
    gboolean clear;
    // A change of the metal changes the gating by far less than itself, so this settles quickly.
    for (int i = 0; i < MOST_ROUNDS; i++) {
        // Where even narrow gates have no room beside the well the columns stand further apart.
        p.pour = mould_pour_clear(wish, volume, n, arms, f.side, apart, &clear);
        place_along(wish, way, &f, &p);
        place_across(wish, way, &f, &p);
        double next = metal_volume(wish, way, &f, &p);
        gboolean settled = !(fabs(next - volume) > 1e-14 * volume);
        volume = next;
        if (settled)
            break;
        // Already far too large: no need to know it to the last digit.
        if (!isfinite(volume) || volume > 100 * wish->length * wish->width * (wish->cope + 1))
            break;
    }
    if (wish->round)
        need_of_round(wish, way, &f, &p);
    p.fits = p.need_u <= f.flask_u * (1 + 1e-12) && p.need_v <= f.flask_v * (1 + 1e-12);
    return p;
}

gboolean
mould_place_is_deep_enough(const MouldWish *wish)
{
    return wish->above < wish->cope && wish->below < wish->drag && wish->mean_head > 0;
}

static gboolean
is_better(const MouldWay *a, const MouldPlace *pa, const MouldWay *b, const MouldPlace *pb)
{
    int na = a->rows * a->columns, nb = b->rows * b->columns;
    if (na != nb)
        return na > nb;
    // An even number shares the metal evenly to both sides of the sprue, and so does one column.
    gboolean even_a = a->columns == 1 || a->columns % 2 == 0;
    gboolean even_b = b->columns == 1 || b->columns % 2 == 0;
    if (even_a != even_b)
        return even_a;
    // A pattern plate is made more easily square to the flask: an odd angle has to save metal.
    double odd = (a->quarter >= MOULD_QUARTERS) - (b->quarter >= MOULD_QUARTERS);
    return pa->pour.volume < pb->pour.volume * (1 - 1e-9 - ODD_SAVING * odd);
}

// How many columns could fit without any gating: keeps the search short.
static int
columns_at_most(const MouldWish *wish, const MouldWay *way)
{
    Frame f = frame_of(wish, way);
    double room = f.flask_u - 2 * mould_place_share(wish) - f.left - f.right;
    int n = room < 0 ? 0 : (int)CLAMP(1 + floor(room / f.pitch + 1e-9), 0, MOST_COLUMNS);
    if (wish->most > 0)
        n = MIN(n, wish->most / way->rows);
    return n;
}

gboolean
mould_place_search(const MouldWish *wish, MouldWay *way, MouldPlace *place)
{
    gboolean found = FALSE, have_miss = FALSE;
    double least_miss = INFINITY;
    int stances = wish->n_stances > 0 ? wish->n_stances : 2;
    for (int i = 0; i < 4 * stances; i++) {
        MouldWay w = {i & 1, (i >> 1) % stances, i >> 1 >= stances ? 2 : 1, 1};
        if (wish->n_stances > 0 && wish->stances[w.quarter].barred)
            continue;
        for (w.columns = columns_at_most(wish, &w); w.columns >= 1; w.columns--) {
            MouldPlace p = mould_place_solve(wish, &w);
            if (!p.fits)
                continue;
            if (!found || is_better(&w, &p, way, place)) {
                *way = w;
                *place = p;
            }
            found = TRUE;
            break;
        }
        if (found || w.rows == 2)
            continue;
        w.columns = 1;
        MouldPlace p = mould_place_solve(wish, &w);
        Frame f = frame_of(wish, &w);
        double miss = MAX(p.need_u - f.flask_u, p.need_v - f.flask_v);
        if (!have_miss || miss < least_miss) {
            have_miss = TRUE;
            least_miss = miss;
            *way = w;
            *place = p;
        }
    }
    return found;
}

double
mould_place_turn(const MouldWish *wish, int quarter)
{
    return quarter < 2 ? quarter * G_PI / 2 : wish->stances[quarter].turn;
}

MouldBeside
mould_place_beside(const MouldWish *wish)
{
    const MouldOwnRiser *o = &wish->own;
    if (!o->beside)
        return (MouldBeside){0};
    return (MouldBeside){{o->x, o->y}, {o->joint_x, o->joint_y}, o->diameter / 2};
}

SolidPoint
mould_place_point(const MouldWay *way, double u, double v)
{
    return way->axis ? (SolidPoint){-v, u} : (SolidPoint){u, v};
}

// The foremost crossing of the outline with the line at u; NAN if there is none.
static double
foremost_at(const SolidOutline *o, double scale, int quarter, double u)
{
    double best = NAN;
    for (guint loop = 0; loop < o->n_loops; loop++) {
        guint from = o->starts[loop], to = o->starts[loop + 1];
        for (guint i = from; i < to; i++) {
            SolidPoint a = o->points[i], b = o->points[i + 1 < to ? i + 1 : from];
            double au = scale * (quarter ? -a.y : a.x), av = scale * (quarter ? a.x : a.y);
            double bu = scale * (quarter ? -b.y : b.x), bv = scale * (quarter ? b.x : b.y);
            if ((au <= u) == (bu <= u))
                continue;
            double v = av + (bv - av) * (u - au) / (bu - au);
            if (isnan(best) || v < best)
                best = v;
        }
    }
    return best;
}

void
mould_place_attach(const SolidOutline *outline, double scale, int quarter, double *u, double *v)
{
    double least_u = 0, least_v = INFINITY, most_v = -INFINITY;
    for (guint i = 0; i < outline->n_points; i++) {
        SolidPoint a = outline->points[i];
        double au = scale * (quarter ? -a.y : a.x), av = scale * (quarter ? a.x : a.y);
        // Of equally foremost points the one nearest the middle.
        if (av < least_v - 1e-9 || (av < least_v + 1e-9 && fabs(au) < fabs(least_u))) {
            least_v = MIN(av, least_v);
            least_u = au;
        }
        most_v = MAX(most_v, av);
    }
    double middle = foremost_at(outline, scale, quarter, 0);
    gboolean near_front = middle - least_v <= 0.25 * (most_v - least_v);
    *u = near_front ? 0 : least_u;
    *v = near_front ? middle : least_v;
}
