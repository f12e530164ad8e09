// SPDX-License-Identifier: GPL-3.0-or-later
// Stage "melt": the order of its parts, and the result they fill.
#include "melt/melt.h"

#include <math.h>

#include "melt/parts.h"

const char *const melt_reads[] = {
    "job.metal",
    "job.pouring_temperature",
    "job.superheat_most",
    "job.flux",
    "job.returns_share",
    "job.charge_from",
    "job.reserve",
    "job.reserve_least",
    "job.heel",
    "job.melt_loss",
    "metal.*",
    "ratingmetal.*",
    "cruciblekind.*",
    "crucible.kind",
    "crucible.rating",
    "crucible.rating_metal",
    "crucible.fill",
    "crucible.family",
    "crucible.firings",
    "crucible.cracks",
    "crucible.residue",
    "crucible.notes",
    "furnace.power",
    "furnace.efficiency",
    "furnace.standing_loss",
    "furnace.warm_up_rate",
    "flask.count",
    "shop.ambient",
    "shop.stock",
    "people.charge_time",
    "people.skim_time",
    "people.pour_time",
    "tables",
    NULL,
};

static void
clear_result(gpointer data)
{
    MeltResult *result = data;
    for (guint i = 0; i < result->n_warmup; i++)
        g_free(result->warmup[i].prompt);
    g_free(result->warmup);
    g_strfreev(result->closing);
}

MeltResult *
melt_result_ref(const MeltResult *result)
{
    g_return_val_if_fail(result != NULL, NULL);
    return g_atomic_rc_box_acquire((MeltResult *)result);
}

void
melt_result_unref(const MeltResult *result)
{
    if (result)
        g_atomic_rc_box_release_full((MeltResult *)result, clear_result);
}

void
melt_take_sources(Figure *figure, const TableRow *row, const char *const *keys)
{
    g_autoptr(GPtrArray) ids = g_ptr_array_new();
    for (guint i = 0; row && keys[i]; i++) {
        const TableValue *value = table_row_find(row, keys[i]);
        if (value && !g_ptr_array_find_with_equal_func(ids, value->source, g_str_equal, NULL))
            g_ptr_array_add(ids, value->source);
    }
    if (ids->len == 0)
        return;
    g_ptr_array_add(ids, NULL);
    g_autofree char *joined = g_strjoinv("+", (char **)ids->pdata);
    figure_set_source(figure, joined);
}

static MeltResult *
new_result(void)
{
    MeltResult *result = g_atomic_rc_box_new0(MeltResult);
    result->warmup_time = result->working_mass = result->charge_mass = NAN;
    result->heat = result->heat_time = result->cycle_time = NAN;
    result->pouring_temperature = result->energy = result->warmup_energy = NAN;
    return result;
}

// The metal of a flask as the mould left it; unknown when it has none (no cavity fits).
static double
find_flask_metal(FigureList *figures)
{
    if (!figure_list_find(figures, "mould.metal_mass"))
        figure_give(figures, "mould.metal_mass", "Metal in a flask", QUANTITY_MASS, NAN, NULL,
                    "definition");
    return figure_list_value(figures, "mould.metal_mass");
}

MeltResult *
melt_stage(const Inputs *inputs, const MouldLayout *layout, FigureList *figures, Progress *progress,
           GError **error)
{
    g_return_val_if_fail(inputs != NULL && figures != NULL, NULL);
    if (!progress_check(progress, error))
        return NULL;
    g_autoptr(MeltResult) result = new_result();
    inputs_give(inputs, figures);
    MeltCall call = {inputs, figures, result, find_flask_metal(figures), NAN, FALSE};
    melt_add_crucible(&call);
    melt_add_care(&call);
    melt_add_superheat(&call);
    melt_add_stock(&call);
    melt_add_load(&call);
    melt_add_makeup(&call);
    melt_add_heat(&call);
    melt_add_warmup(&call);
    melt_add_closing(&call);
    return g_steal_pointer(&result);
}
