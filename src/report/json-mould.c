// SPDX-License-Identifier: GPL-3.0-or-later
// Cavities and vents of a mould as JSON: SI, flask axes (x along the length, y across, origin in
// the middle, z up from the parting), null for what there is not.
#include "report/json-mould.h"

#include <math.h>

typedef struct {
    const char *name;
    double value;
} Member;

static void
add_members(JsonBuilder *builder, const Member *members, guint n)
{
    for (guint i = 0; i < n; i++) {
        json_builder_set_member_name(builder, members[i].name);
        if (isfinite(members[i].value))
            json_builder_add_double_value(builder, members[i].value);
        else
            json_builder_add_null_value(builder);
    }
}

static void
add_cavity(JsonBuilder *builder, const MouldLayout *l, guint i)
{
    const MouldCavity *c = &l->cavities[i];
    gboolean riser = mould_layout_has_riser(l, i);
    const Member members[] = {{"x", c->x},
                              {"y", c->y},
                              {"turn", c->turn},
                              {"mismatch", c->mismatch},
                              {"riser_x", riser ? c->riser_x : NAN},
                              {"riser_y", riser ? c->riser_y : NAN}};
    json_builder_begin_object(builder);
    json_builder_set_member_name(builder, "cavity");
    json_builder_add_int_value(builder, i + 1);
    add_members(builder, members, G_N_ELEMENTS(members));
    json_builder_end_object(builder);
}

static void
add_vent(JsonBuilder *builder, const MouldVent *v)
{
    static const char *const kinds[] = {"high point", "blind riser", "far from the gate"};
    const Member members[] = {
        {"x", v->x}, {"y", v->y}, {"z", v->z}, {"depth", v->depth}, {"diameter", v->diameter}};
    json_builder_begin_object(builder);
    json_builder_set_member_name(builder, "kind");
    json_builder_add_string_value(builder, kinds[v->kind]);
    json_builder_set_member_name(builder, "cavity");
    json_builder_add_int_value(builder, v->cavity + 1);
    add_members(builder, members, G_N_ELEMENTS(members));
    json_builder_end_object(builder);
}

void
report_json_mould(JsonBuilder *builder, const MouldLayout *l)
{
    g_return_if_fail(builder != NULL);
    json_builder_set_member_name(builder, "cavities");
    json_builder_begin_array(builder);
    for (guint i = 0; l && i < l->n_cavities; i++)
        add_cavity(builder, l, i);
    json_builder_end_array(builder);
    json_builder_set_member_name(builder, "vents");
    json_builder_begin_array(builder);
    for (guint i = 0; l && i < l->n_vents; i++)
        add_vent(builder, &l->vents[i]);
    json_builder_end_array(builder);
}
