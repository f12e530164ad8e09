// SPDX-License-Identifier: GPL-3.0-or-later
// Heights by walking down the distance field, which says how far one may go without meeting metal.
// First a thick line for each block of places, as far as nothing can lie in it; what it leaves is
// walked place by place.
#include "part/height-map.h"

#include <string.h>

#include "part/pull.h"

#define SKEW 0.55357436 // rad; turns the maps so that straight edges do not run along their rows
#define BLOCK 4         // places a side
#define EXCESS 1.75     // cells; far from the surface the field may say so much too much

// The field and the direction it is walked in. Heights here are in m above the view's lowest.
typedef struct {
    const SolidGrid *g;
    float way[3];      // cells per m
    double inverse[3]; // m per cell; 0 for none
    float cell, level, length;
    int most[3]; // lower index of the last cube along each axis
} Walk;

// A line through the field, in cells at the lowest height.
typedef struct {
    float from[3];
    float enter, leave; // where it is inside the grid
} Line;

HeightView
height_view(const SolidGrid *g, const EnvelopeOptions *o, Vec3 pull, double pixel)
{
    double r[9], size[3] = {(g->nx - 1) * g->cell, (g->ny - 1) * g->cell, (g->nz - 1) * g->cell};
    pull_rotation(pull, r);
    Vec3 x = vec3(r[0], r[1], r[2]), y = vec3(r[3], r[4], r[5]);
    HeightView v = {.z = vec3(r[6], r[7], r[8]), .pixel = pixel};
    v.x = vec3_add(vec3_scale(x, cos(SKEW)), vec3_scale(y, sin(SKEW)));
    v.y = vec3_cross(v.z, v.x);
    Vec3 middle = vec3_add(g->origin, vec3(size[0] / 2, size[1] / 2, size[2] / 2));
    double half[3];
    const Vec3 *axes[3] = {&v.x, &v.y, &v.z};
    for (int a = 0; a < 3; a++)
        half[a] = 0.5 * (fabs(axes[a]->x) * size[0] + fabs(axes[a]->y) * size[1] +
                         fabs(axes[a]->z) * size[2]);
    double stub = o->stub_diameter > 0 ? o->stub_height : 0;
    double wide = (2 * half[2] + stub) * tan(o->draft) + pixel;
    v.nx = (int)ceil(2 * (half[0] + wide) / pixel) + 1;
    v.ny = (int)ceil(2 * (half[1] + wide) / pixel) + 1;
    double height = vec3_dot(middle, v.z);
    v.low = height - half[2];
    v.high = height + half[2];
    v.start = vec3_sub(middle, vec3_scale(v.z, height));
    v.start = vec3_sub(v.start, vec3_scale(v.x, 0.5 * (v.nx - 1) * pixel));
    v.start = vec3_sub(v.start, vec3_scale(v.y, 0.5 * (v.ny - 1) * pixel));
    return v;
}

static Walk
make_walk(const SolidGrid *g, const HeightView *v, double level)
{
    Walk walk = {.g = g,
                 .cell = (float)g->cell,
                 .level = (float)level,
                 .length = (float)(v->high - v->low),
                 .most = {g->nx - 2, g->ny - 2, g->nz - 2}};
    double way[3] = {v->z.x, v->z.y, v->z.z};
    for (int a = 0; a < 3; a++) {
        walk.way[a] = (float)(way[a] / g->cell);
        walk.inverse[a] = fabs(way[a]) < 1e-9 ? 0 : g->cell / way[a];
    }
    return walk;
}

static void
place_line(const Walk *walk, const HeightView *v, double i, double j, Line *line)
{
    const SolidGrid *g = walk->g;
    Vec3 p = vec3_add(v->start, vec3_scale(v->z, v->low));
    p = vec3_add(p, vec3_add(vec3_scale(v->x, i * v->pixel), vec3_scale(v->y, j * v->pixel)));
    p = vec3_scale(vec3_sub(p, g->origin), 1 / g->cell);
    line->from[0] = (float)p.x;
    line->from[1] = (float)p.y;
    line->from[2] = (float)p.z;
}

// FALSE if the line does not meet the grid.
static gboolean
clip_line(const Walk *walk, Line *line)
{
    double enter = 0, leave = (double)walk->length;
    for (int a = 0; a < 3; a++) {
        double p = (double)line->from[a], most = walk->most[a] + 0.999, k = walk->inverse[a];
        if (k == 0) {
            if (p < 0 || p > most)
                return FALSE;
            continue;
        }
        double s = -p * k, t = (most - p) * k;
        double first = MIN(s, t), last = MAX(s, t);
        enter = MAX(enter, first);
        leave = MIN(leave, last);
    }
    line->enter = (float)enter;
    line->leave = (float)leave;
    return enter < leave;
}

// The field at a place inside the grid, give or take a rounding; m.
static inline float
sample_field(const Walk *walk, float x, float y, float z)
{
    const SolidGrid *g = walk->g;
    int i = MIN((int)x, walk->most[0]), j = MIN((int)y, walk->most[1]);
    int k = MIN((int)z, walk->most[2]);
    float u = x - (float)i, v = y - (float)j, w = z - (float)k;
    gsize dj = (gsize)g->nx, dk = dj * (gsize)g->ny;
    const float *p = g->value + ((gsize)k * dk + (gsize)j * dj + (gsize)i), *q = p + dk;
    float a = p[0] + u * (p[1] - p[0]), b = p[dj] + u * (p[dj + 1] - p[dj]);
    float c = q[0] + u * (q[1] - q[0]), d = q[dj] + u * (q[dj + 1] - q[dj]);
    float low = a + v * (b - a), high = c + v * (d - c);
    return low + w * (high - low);
}

// How far from a place anywhere all metal is at least. Of a place outside the grid: the box is
// convex, so way out of it and way inside are at no less than a right angle.
static float
find_clearance(const Walk *walk, const float at[3])
{
    float held[3], out = 0;
    for (int a = 0; a < 3; a++) {
        float most = (float)walk->most[a] + 0.999F;
        held[a] = CLAMP(at[a], 0, most);
        out += (at[a] - held[a]) * (at[a] - held[a]);
    }
    float d = sample_field(walk, held[0], held[1], held[2]);
    if (out > 0 && d > 0)
        d = sqrtf(d * d + out * walk->cell * walk->cell);
    return d - walk->level - (float)EXCESS * walk->cell;
}

// Goes from `s` by `sense` as long as a line of some radius (m) stays free, at most to `end`.
static float
walk_thick(const Walk *walk, const Line *line, float radius, float s, float end, float sense)
{
    while (sense * (end - s) > 0) {
        float at[3];
        for (int a = 0; a < 3; a++)
            at[a] = line->from[a] + s * walk->way[a];
        float free = find_clearance(walk, at);
        if (free <= radius)
            return s;
        float step = sqrtf(free * free - radius * radius);
        if (step < 0.5F * walk->cell)
            return s;
        s += sense * step;
    }
    return end;
}

// Where a line stands that is walked until the field falls to the level.
typedef struct {
    float from[3], s, end;
    float before, last; // what the field was there, and where; no such place yet: -1
    int line;
} Step;

static Step
start_step(const Line *line, float s, float end, int number)
{
    return (Step){.from = {line->from[0], line->from[1], line->from[2]},
                  .s = s,
                  .end = end,
                  .before = -1,
                  .last = s,
                  .line = number};
}

// TRUE once the line is at its end; then `found` is the place where the field falls to the level,
// -1 for none.
static inline gboolean
take_step(const Walk *walk, Step *step, float sense, float *found)
{
    float s = step->s, least = 0.4F * walk->cell, far = 3 * walk->cell;
    *found = -1;
    if (!(sense * (step->end - s) >= 0))
        return TRUE;
    float x = step->from[0] + s * walk->way[0], y = step->from[1] + s * walk->way[1];
    float d = sample_field(walk, x, y, step->from[2] + s * walk->way[2]) - walk->level;
    if (d <= 0) {
        float before = step->before, last = step->last;
        *found = before < 0 ? s : last + (s - last) * before / (before - d);
        return TRUE;
    }
    step->before = d;
    step->last = s;
    // Far off, the field may say a little too much.
    float by = d > far ? d - 0.5F * far : 0.95F * d;
    step->s = s + sense * (by > least ? by : least);
    return FALSE;
}

// Walks the lines in turn, a step each: while the cells of one are fetched the next can be
// reckoned.
static inline void
walk_lines(const Walk *walk, Step *steps, int n, float sense, float found[BLOCK * BLOCK])
{
    while (n > 0)
        for (int i = 0; i < n;) {
            float at;
            if (take_step(walk, &steps[i], sense, &at)) {
                found[steps[i].line] = at;
                steps[i] = steps[--n];
            } else
                i++;
        }
}

static void
draw_block(const Walk *walk, const HeightView *v, int i0, int j0, float *top, float *bottom)
{
    Line line;
    gsize at[BLOCK * BLOCK];
    float radius = (float)(0.5 * G_SQRT2 * (BLOCK - 1) * v->pixel), length = walk->length;
    place_line(walk, v, i0 + 0.5 * (BLOCK - 1), j0 + 0.5 * (BLOCK - 1), &line);
    float above = walk_thick(walk, &line, radius, length, 0, -1);
    if (above <= 0)
        return;
    float below = walk_thick(walk, &line, radius, 0, above, 1);
    Step down[BLOCK * BLOCK], up[BLOCK * BLOCK];
    float high[BLOCK * BLOCK], low[BLOCK * BLOCK];
    int n = 0, lines = 0;
    for (int j = j0; j < MIN(j0 + BLOCK, v->ny); j++)
        for (int i = i0; i < MIN(i0 + BLOCK, v->nx); i++) {
            place_line(walk, v, i, j, &line);
            if (!clip_line(walk, &line))
                continue;
            float enter = MAX(line.enter, below), leave = MIN(line.leave, above);
            at[n] = (gsize)j * v->nx + i;
            up[n] = start_step(&line, enter, leave, n);
            down[n] = start_step(&line, leave, enter, n);
            n++;
        }
    walk_lines(walk, down, n, -1, high);
    for (int i = 0; i < n; i++)
        if (high[i] >= 0) {
            up[lines] = up[i];
            up[lines++].end = high[i];
        }
    walk_lines(walk, up, lines, 1, low);
    for (int i = 0; i < n; i++)
        if (high[i] >= 0) {
            top[at[i]] = (float)(v->low + (double)high[i]);
            bottom[at[i]] = (float)-(v->low + (double)(low[i] < 0 ? high[i] : low[i]));
        }
}

void
height_map_draw(const SolidGrid *field, const HeightView *v, double level, float *top,
                float *bottom)
{
    Walk walk = make_walk(field, v, level);
    gsize n = (gsize)v->nx * v->ny;
    for (gsize at = 0; at < n; at++)
        top[at] = bottom[at] = HEIGHT_LOST;
    for (int j = 0; j < v->ny; j += BLOCK)
        for (int i = 0; i < v->nx; i += BLOCK)
            draw_block(&walk, v, i, j, top, bottom);
}

void
height_map_crop(HeightView *v, int reach, float *top, float *bottom)
{
    int i0 = v->nx, i1 = -1, j0 = v->ny, j1 = -1;
    for (int j = 0; j < v->ny; j++)
        for (int i = 0; i < v->nx; i++)
            if (top[(gsize)j * v->nx + i] > HEIGHT_LOST) {
                i0 = MIN(i0, i);
                i1 = MAX(i1, i);
                j0 = MIN(j0, j);
                j1 = j;
            }
    if (i1 < 0)
        return;
    i0 = MAX(i0 - reach, 0);
    j0 = MAX(j0 - reach, 0);
    int nx = MIN(i1 + reach, v->nx - 1) - i0 + 1, ny = MIN(j1 + reach, v->ny - 1) - j0 + 1;
    for (int j = 0; j < ny; j++) {
        gsize to = (gsize)j * nx, from = (gsize)(j + j0) * v->nx + i0;
        memmove(top + to, top + from, (gsize)nx * sizeof *top);
        memmove(bottom + to, bottom + from, (gsize)nx * sizeof *bottom);
    }
    v->start = vec3_add(v->start, vec3_scale(v->x, i0 * v->pixel));
    v->start = vec3_add(v->start, vec3_scale(v->y, j0 * v->pixel));
    v->nx = nx;
    v->ny = ny;
}
