// SPDX-License-Identifier: GPL-3.0-or-later
#include "sample.h"

#include <math.h>
#include <string.h>

#include "check.h"

static double
box_distance(double x, double y, double z, double inset)
{
    double dx = fabs(x) - SAMPLE_LONG / 2.0 + inset;
    double dy = fabs(y) - SAMPLE_WIDE / 2.0 + inset;
    double dz = fmax(z - SAMPLE_UP, -SAMPLE_DOWN - z) + inset;
    return fmax(dx, fmax(dy, dz));
}

static SolidGrid *
make_grid(double inset)
{
    double cell = 0.00093;
    int nx = 90, ny = 60, nz = 36;
    Vec3 origin = vec3(-(nx - 1) * cell / 2.0, -(ny - 1) * cell / 2.0, -0.0131);
    SolidGrid *grid = solid_grid_new(nx, ny, nz, cell, origin);
    for (int k = 0; k < nz; k++)
        for (int j = 0; j < ny; j++)
            for (int i = 0; i < nx; i++)
                grid->value[solid_grid_index(grid, i, j, k)] = (float)box_distance(
                    origin.x + i * cell, origin.y + j * cell, origin.z + k * cell, inset);
    return grid;
}

static SolidMesh *
make_part(void)
{
    double l = SAMPLE_LONG - 2 * SAMPLE_STOCK, w = SAMPLE_WIDE - 2 * SAMPLE_STOCK;
    double h = SAMPLE_UP + SAMPLE_DOWN - 2 * SAMPLE_STOCK;
    g_autoptr(SolidMesh) box = check_mesh_box(l, w, h);
    const double same[9] = {1, 0, 0, 0, 1, 0, 0, 0, 1};
    return solid_mesh_transformed(box, same, vec3(-l / 2.0, -w / 2.0, -SAMPLE_DOWN + SAMPLE_STOCK));
}

static void
fill_layout(SampleFlask *s)
{
    s->cavities[0] = (MouldCavity){-0.071, 0.063, 0.0, -0.071, 0.0215, -0.071, 0.04};
    s->cavities[1] = (MouldCavity){0.0675, 0.0595, G_PI, 0.0675, 0.0205, 0.0675, 0.0365};
    s->cavities[2] = (MouldCavity){0.0125, -0.0575, SAMPLE_TURN, NAN, NAN};
    s->runners[0] = (MouldChannel){-0.011, 0.0, -0.0875, 0.0, 0.0115, 0.0095};
    s->runners[1] = (MouldChannel){0.011, 0.0, 0.0875, 0.0, 0.0115, 0.0095};
    s->gates[0] = (MouldChannel){-0.071, 0.0, -0.071, 0.0115, 0.0135, 0.0042};
    s->gates[1] = (MouldChannel){0.0675, 0.0, 0.0675, 0.0105, 0.0135, 0.0042};
    s->gates[2] = (MouldChannel){0.0125, 0.0, 0.0125, -0.0315, 0.0135, 0.0042};
    s->layout = (MouldLayout){
        .length = 0.2635,
        .width = 0.2155,
        .cope = 0.0765,
        .drag = 0.0615,
        .cavities = s->cavities,
        .n_cavities = 3,
        .sprue_top_diameter = 0.0171,
        .sprue_bottom_diameter = 0.0113,
        .sprue_height = 0.0765,
        .well_diameter = 0.0223,
        .well_depth = 0.0187,
        .basin_height = 0.0215,
        .runners = s->runners,
        .n_runners = 2,
        .gates = s->gates,
        .n_gates = 3,
        .riser.diameter = 0.0207,
        .riser.height = 0.0355,
        .neck = {.width = 0.0091, .up = 0.0039, .down = 0.0052},
        .tabs = {{0.1185, 0.0805, 0.0125, 0.0085}, {-0.1215, -0.0925, 0.0125, 0.0085}},
        .n_tabs = 2,
        .tab_clearance = 0.00025,
        .cover_wall = 0.02375,
        .cover_between = 0.0645,
        .cover_wall_from = {-0.108, 0.0715},
        .cover_wall_to = {-0.13175, 0.0715},
        .cover_between_from = {-0.034, 0.063},
        .cover_between_to = {0.0305, 0.063},
        .metal_mass = 1.337,
        .fill_time = 4.23,
    };
}

void
sample_flask_fill(SampleFlask *s)
{
    memset(s, 0, sizeof *s);
    fill_layout(s);
    s->pattern.casting = make_grid(0.0);
    s->pattern.part_distance = make_grid(SAMPLE_STOCK);
    s->pattern.part = make_part();
    s->pattern.shadow = solid_section_shadow(s->pattern.casting, 0.0);
    s->pattern.height_cope = SAMPLE_UP;
    s->pattern.height_drag = SAMPLE_DOWN;
}

void
sample_flask_clear(SampleFlask *s)
{
    solid_grid_unref(s->pattern.casting);
    solid_grid_unref(s->pattern.part_distance);
    solid_mesh_unref(s->pattern.part);
    solid_outline_unref(s->pattern.shadow);
}

static SessionTask
make_task(TaskKind kind, int load, int flask, int box, gboolean person, gboolean furnace,
          double from_min, double to_min, const char *label)
{
    return (SessionTask){.kind = kind,
                         .load = load,
                         .flask = flask,
                         .box = box,
                         .person = person,
                         .job = -1,
                         .furnace = furnace ? 0 : -1,
                         .start = from_min * 60.0,
                         .end = to_min * 60.0,
                         .label = (char *)label, // never written or freed
                         .who = person ? 0 : -1};
}

void
sample_session_fill(SampleSession *s)
{
    memset(s, 0, sizeof *s);
    SessionTask *t = s->tasks;
    *t++ = make_task(TASK_SET_UP, -1, -1, -1, TRUE, FALSE, 0, 17.5, "Set up");
    *t++ = make_task(TASK_WARM_UP, -1, -1, -1, FALSE, TRUE, 17.5, 121, "Warm up");
    *t++ = make_task(TASK_RAM, 0, 0, 0, TRUE, FALSE, 17.5, 46, "Ram mould 1");
    *t++ = make_task(TASK_RAM, 1, 1, 1, TRUE, FALSE, 46, 74.5, "Ram mould 2");
    *t++ = make_task(TASK_MELT, 0, -1, -1, FALSE, TRUE, 121, 163, "Melt load 1");
    *t++ = make_task(TASK_POUR, 0, 0, 0, TRUE, TRUE, 163, 166.5, "Pour flask 1");
    *t++ = make_task(TASK_COOL, 0, 0, 0, FALSE, FALSE, 166.5, 201, "Cool");
    *t++ = make_task(TASK_MELT, 1, -1, -1, FALSE, TRUE, 166.5, 209, "Melt load 2");
    *t++ = make_task(TASK_POUR, 1, 1, 1, TRUE, TRUE, 209, 212.5, "Pour flask 2");
    *t++ = make_task(TASK_COOL, 1, 1, 1, FALSE, FALSE, 212.5, 900, "Cool overnight");
    *t++ = make_task(TASK_CLOSE, -1, -1, -1, TRUE, FALSE, 212.5, 233, "Close");
    static const struct {
        double minutes, temperature;
        const char *prompt;
    } curve[SAMPLE_CURVE] = {
        {17.5, 20, "Set 300"},  {40, 300, NULL},        {75, 300, "Set 780"}, {121, 780, "Charge"},
        {163, 741, "Pour one"}, {209, 741, "Pour two"}, {233, 655, NULL},
    };
    for (guint i = 0; i < SAMPLE_CURVE; i++)
        s->curve[i] = (SessionFurnacePoint){curve[i].minutes * 60.0, curve[i].temperature,
                                            (char *)curve[i].prompt};
    s->steps[0] = (MeltStep){300, 1350, 2100, (char *)"Step one"};
    s->steps[1] = (MeltStep){780, 1500, 1260, (char *)"Step two"};
    s->melt = (MeltResult){.warmup = s->steps, .n_warmup = 2};
    s->session = (SessionResult){.tasks = s->tasks,
                                 .n_tasks = SAMPLE_TASKS,
                                 .curve = s->curve,
                                 .n_curve = SAMPLE_CURVE,
                                 .length = 233 * 60,
                                 .hours = 225 * 60,
                                 .loads = 2,
                                 .flasks = 2,
                                 .castings = 6,
                                 .boxes = 2,
                                 .bottleneck = (char *)"crucible"};
}

const Shape *
sample_find_text(const Scene *scene, const char *text)
{
    for (guint i = 0; i < scene_shape_count(scene); i++) {
        const Shape *shape = scene_shape(scene, i);
        if (shape->text && strcmp(shape->text, text) == 0)
            return shape;
    }
    return NULL;
}

const Shape *
sample_find_shape(const Scene *scene, ShapeKind kind, SceneRole role, const char *part)
{
    for (guint i = 0; i < scene_shape_count(scene); i++) {
        const Shape *shape = scene_shape(scene, i);
        if (shape->kind == kind && shape->role == role && g_strcmp0(shape->part, part) == 0)
            return shape;
    }
    return NULL;
}

void
sample_shape_box(const Shape *shape, SolidPoint *min, SolidPoint *max)
{
    *min = (SolidPoint){INFINITY, INFINITY};
    *max = (SolidPoint){-INFINITY, -INFINITY};
    for (guint i = 0; i < shape->n_points; i++) {
        *min = (SolidPoint){fmin(min->x, shape->points[i].x), fmin(min->y, shape->points[i].y)};
        *max = (SolidPoint){fmax(max->x, shape->points[i].x), fmax(max->y, shape->points[i].y)};
    }
}
