// SPDX-License-Identifier: GPL-3.0-or-later
// Over GLPK, which is told to be silent and is stopped by a count of its steps.
#include "session/mip.h"

#include <glpk.h>
#include <math.h>

// Nodes of the search, and pivots of one linear program.
#define MOST_NODES 400
#define MOST_PIVOTS 20000

struct SessionMip {
    glp_prob *problem;
    GArray *rows, *columns, *values; // of the matrix, from 1
    const Progress *progress;
    int nodes;
    double sign, bound;
    gboolean stopped, cancelled;
};

// GLPK keeps memory for each thread that has used it; the last programme of a thread gives it back.
static _Thread_local int live = 0;

SessionMip *
session_mip_new(gboolean maximise)
{
    glp_term_out(GLP_OFF);
    SessionMip *mip = g_new0(SessionMip, 1);
    live++;
    mip->problem = glp_create_prob();
    mip->sign = maximise ? 1.0 : -1.0;
    mip->bound = mip->sign * INFINITY;
    glp_set_obj_dir(mip->problem, maximise ? GLP_MAX : GLP_MIN);
    mip->rows = g_array_new(FALSE, TRUE, sizeof(int));
    mip->columns = g_array_new(FALSE, TRUE, sizeof(int));
    mip->values = g_array_new(FALSE, TRUE, sizeof(double));
    g_array_set_size(mip->rows, 1);
    g_array_set_size(mip->columns, 1);
    g_array_set_size(mip->values, 1);
    return mip;
}

void
session_mip_free(SessionMip *mip)
{
    if (!mip)
        return;
    glp_delete_prob(mip->problem);
    g_array_unref(mip->rows);
    g_array_unref(mip->columns);
    g_array_unref(mip->values);
    g_free(mip);
    if (--live == 0)
        glp_free_env();
}

static int
get_bound_kind(double low, double high)
{
    if (isinf(low))
        return isinf(high) ? GLP_FR : GLP_UP;
    if (isinf(high))
        return GLP_LO;
    return low == high ? GLP_FX : GLP_DB;
}

int
session_mip_column(SessionMip *mip, double low, double high, double cost, gboolean integer)
{
    int index = glp_add_cols(mip->problem, 1);
    glp_set_col_bnds(mip->problem, index, get_bound_kind(low, high), low, high);
    glp_set_obj_coef(mip->problem, index, cost);
    glp_set_col_kind(mip->problem, index, integer ? GLP_IV : GLP_CV);
    return index;
}

int
session_mip_row(SessionMip *mip, double low, double high)
{
    int index = glp_add_rows(mip->problem, 1);
    glp_set_row_bnds(mip->problem, index, get_bound_kind(low, high), low, high);
    return index;
}

void
session_mip_set(SessionMip *mip, int row, int column, double value)
{
    g_array_append_val(mip->rows, row);
    g_array_append_val(mip->columns, column);
    g_array_append_val(mip->values, value);
}

static void
on_node_reached_cb(glp_tree *tree, void *data)
{
    SessionMip *mip = data;
    if (glp_ios_reason(tree) != GLP_ISELECT)
        return;
    int best = glp_ios_best_node(tree);
    if (best)
        mip->bound = glp_ios_node_bound(tree, best);
    mip->cancelled = progress_stopped(mip->progress);
    mip->stopped = ++mip->nodes > MOST_NODES;
    if (mip->cancelled || mip->stopped)
        glp_ios_terminate(tree);
}

static gboolean
solve_relaxed(SessionMip *mip)
{
    glp_smcp control;
    glp_init_smcp(&control);
    control.msg_lev = GLP_MSG_OFF;
    control.it_lim = MOST_PIVOTS;
    glp_scale_prob(mip->problem, GLP_SF_AUTO);
    glp_adv_basis(mip->problem, 0);
    if (glp_simplex(mip->problem, &control) != 0 || glp_get_status(mip->problem) != GLP_OPT)
        return FALSE;
    mip->bound = glp_get_obj_val(mip->problem);
    return TRUE;
}

SessionMipEnd
session_mip_solve(SessionMip *mip, const Progress *progress)
{
    g_return_val_if_fail(mip, SESSION_MIP_NONE);
    mip->progress = progress;
    glp_load_matrix(mip->problem, (int)mip->values->len - 1, (int *)(gpointer)mip->rows->data,
                    (int *)(gpointer)mip->columns->data, (double *)(gpointer)mip->values->data);
    if (!solve_relaxed(mip))
        return SESSION_MIP_NONE;
    glp_iocp control;
    glp_init_iocp(&control);
    control.msg_lev = GLP_MSG_OFF;
    control.br_tech = GLP_BR_DTH;
    control.bt_tech = GLP_BT_BLB;
    control.cb_func = on_node_reached_cb;
    control.cb_info = mip;
    glp_intopt(mip->problem, &control);
    if (mip->cancelled)
        return SESSION_MIP_CANCELLED;
    int status = glp_mip_status(mip->problem);
    if (status == GLP_OPT)
        mip->bound = glp_mip_obj_val(mip->problem);
    if (status == GLP_OPT)
        return SESSION_MIP_BEST;
    return status == GLP_FEAS ? SESSION_MIP_STOPPED : SESSION_MIP_NONE;
}

double
session_mip_value(const SessionMip *mip, int column)
{
    return glp_mip_col_val(mip->problem, column);
}

double
session_mip_objective(const SessionMip *mip)
{
    return glp_mip_obj_val(mip->problem);
}

double
session_mip_bound(const SessionMip *mip)
{
    return mip->bound;
}
