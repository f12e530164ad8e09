// SPDX-License-Identifier: GPL-3.0-or-later
// DXF is pairs of lines: a group code and a value. Nothing is hatched or filled; dimensions are
// left out, since what reads this file measures by itself.
#include "sketch/dxf.h"

#include <math.h>
#include <string.h>

#define TEXT_HEIGHT 4.0 // mm

static void
add_pair(GString *out, int code, const char *value)
{
    g_string_append_printf(out, "%d\n%s\n", code, value);
}

static void
add_number(GString *out, int code, double value)
{
    char text[G_ASCII_DTOSTR_BUF_SIZE];
    g_ascii_formatd(text, sizeof text, "%.4f", fabs(value) < 5e-5 ? 0 : value);
    add_pair(out, code, text);
}

static void
add_point(GString *out, SolidPoint p)
{
    add_number(out, 10, p.x);
    add_number(out, 20, p.y);
    add_number(out, 30, 0);
}

// "cavity-12" lies on layer "cavity". A name is letters only, as the oldest readers want.
static char *
name_layer(const Shape *shape)
{
    if (shape->kind == SHAPE_TEXT)
        return g_strdup("words");
    if (!shape->part)
        return g_strdup("centre");
    gsize n = strcspn(shape->part, "-");
    return g_strndup(shape->part, n);
}

static void
start_entity(GString *out, const char *kind, const char *layer)
{
    add_pair(out, 0, kind);
    add_pair(out, 8, layer);
}

static void
add_run(GString *out, const char *layer, const SolidPoint *points, guint n, gboolean closed)
{
    if (n == 2 && !closed) {
        start_entity(out, "LINE", layer);
        add_point(out, points[0]);
        add_number(out, 11, points[1].x);
        add_number(out, 21, points[1].y);
        add_number(out, 31, 0);
        return;
    }
    start_entity(out, "POLYLINE", layer);
    add_pair(out, 66, "1");
    add_point(out, (SolidPoint){0, 0});
    add_pair(out, 70, closed ? "1" : "0");
    for (guint i = 0; i < n; i++) {
        start_entity(out, "VERTEX", layer);
        add_point(out, points[i]);
    }
    start_entity(out, "SEQEND", layer);
}

// Characters outside ASCII as \U+XXXX; no line may end inside a text.
static char *
plain_text(const char *text)
{
    GString *out = g_string_new(NULL);
    for (const char *p = text; *p; p = g_utf8_next_char(p)) {
        gunichar c = g_utf8_get_char(p);
        if (c < 0x20)
            g_string_append_c(out, ' ');
        else if (c < 0x7f)
            g_string_append_c(out, (char)c);
        else
            g_string_append_printf(out, "\\U+%04X", c);
    }
    return g_string_free(out, FALSE);
}

static void
add_shape(GString *out, const Shape *shape)
{
    g_autofree char *layer = name_layer(shape);
    switch (shape->kind) {
    case SHAPE_PATH:
        for (guint i = 0; i < shape->n_runs; i++)
            add_run(out, layer, &shape->points[shape->starts[i]],
                    shape->starts[i + 1] - shape->starts[i], shape->closed);
        break;
    case SHAPE_CIRCLE:
        start_entity(out, "CIRCLE", layer);
        add_point(out, shape->points[0]);
        add_number(out, 40, shape->radius);
        break;
    case SHAPE_TEXT: {
        g_autofree char *text = plain_text(shape->text);
        start_entity(out, "TEXT", layer);
        add_point(out, shape->points[0]);
        add_number(out, 40, TEXT_HEIGHT);
        add_pair(out, 1, text);
        break;
    }
    default:
        break;
    }
}

static void
add_header(GString *out, const Scene *scene)
{
    SolidPoint low, high;
    scene_box(scene, &low, &high);
    add_pair(out, 0, "SECTION");
    add_pair(out, 2, "HEADER");
    add_pair(out, 9, "$ACADVER");
    add_pair(out, 1, "AC1009");
    add_pair(out, 9, "$INSUNITS");
    add_pair(out, 70, "4");
    add_pair(out, 9, "$EXTMIN");
    add_point(out, low);
    add_pair(out, 9, "$EXTMAX");
    add_point(out, high);
    add_pair(out, 0, "ENDSEC");
}

char *
dxf_write(const Scene *scene)
{
    g_return_val_if_fail(scene != NULL, NULL);
    GString *out = g_string_new(NULL);
    add_header(out, scene);
    add_pair(out, 0, "SECTION");
    add_pair(out, 2, "ENTITIES");
    for (guint i = 0; i < scene_shape_count(scene); i++)
        add_shape(out, scene_shape(scene, i));
    add_pair(out, 0, "ENDSEC");
    add_pair(out, 0, "EOF");
    return g_string_free(out, FALSE);
}
