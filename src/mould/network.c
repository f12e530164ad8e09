// SPDX-License-Identifier: GPL-3.0-or-later
// The flow network: nodes and links, and Newton's steps on them.
#include "mould/network.h"

#include <glib/gi18n-lib.h>
#include <gsl/gsl_linalg.h>
#include <math.h>

#include "base/error.h"
#include "mould/loss.h"

#define TOLERANCE 1e-11 // of the greatest head; what is promised is 1e-10
#define MOST_STEPS 100
#define MOST_HALVINGS 30
// Slopes of the loss are taken as at least this share of head over flow: keeps the system sound
// where nothing flows.
#define LEAST_SLOPE 1e-5
// A valve that is shut holds its node's head by this share, so that none hangs in the air.
#define SHUT_SHARE 1e-14

typedef struct {
    gboolean fixed;
    double head, inflow;
    int row; // of the system; -1 for a given head
} Node;

typedef struct {
    MouldLink l;
    gboolean shut;   // by the caller
    gboolean closed; // one way, and metal would come back
    double flow;
    double branch;        // m, head lost at the branching before it, as of the last step
    double lost, slope;   // m and s/m2, at `flow`, without the branching
    double share;         // flow over head, in the step
    double given, change; // flow at no heads; what the step adds
} Link;

struct MouldNetwork {
    double gravity, viscosity;
    GArray *nodes, *links;
    guint n_rows, steps;
    gsl_matrix *matrix; // NULL until the first solve and after each change of the topology
    gsl_permutation *order;
    gsl_vector *right, *heads;
    double *reach;   // of every link's flow on every row's head
    gboolean turned; // any link feels the velocity of the one before
    double head_scale, flow_scale, head_error;
    gboolean solved;
};

#define NODE(n, i) (&g_array_index((n)->nodes, Node, i))
#define LINK(n, i) (&g_array_index((n)->links, Link, i))

MouldNetwork *
mould_network_new(double gravity, double viscosity)
{
    MouldNetwork *n = g_new0(MouldNetwork, 1);
    n->gravity = gravity;
    n->viscosity = viscosity;
    n->nodes = g_array_new(FALSE, TRUE, sizeof(Node));
    n->links = g_array_new(FALSE, TRUE, sizeof(Link));
    return n;
}

static void
drop_matrix(MouldNetwork *n)
{
    g_clear_pointer(&n->matrix, gsl_matrix_free);
    g_clear_pointer(&n->order, gsl_permutation_free);
    g_clear_pointer(&n->right, gsl_vector_free);
    g_clear_pointer(&n->heads, gsl_vector_free);
    g_clear_pointer(&n->reach, g_free);
    n->solved = FALSE;
}

void
mould_network_free(MouldNetwork *n)
{
    if (!n)
        return;
    drop_matrix(n);
    g_array_unref(n->nodes);
    g_array_unref(n->links);
    g_free(n);
}

static guint
add_node(MouldNetwork *n, const Node *node)
{
    drop_matrix(n);
    g_array_append_val(n->nodes, *node);
    return n->nodes->len - 1;
}

guint
mould_network_add_head(MouldNetwork *n, double head)
{
    return add_node(n, &(Node){TRUE, head, 0, -1});
}

guint
mould_network_add_junction(MouldNetwork *n, double inflow)
{
    return add_node(n, &(Node){FALSE, 0, inflow, -1});
}

guint
mould_network_add_link(MouldNetwork *n, const MouldLink *link)
{
    g_return_val_if_fail(link->from < n->nodes->len && link->to < n->nodes->len, 0);
    g_return_val_if_fail(link->before < (int)n->links->len, 0);
    Link l = {.l = *link};
    drop_matrix(n);
    g_array_append_val(n->links, l);
    return n->links->len - 1;
}

void
mould_network_set_head(MouldNetwork *n, guint node, double head)
{
    g_return_if_fail(node < n->nodes->len && NODE(n, node)->fixed);
    NODE(n, node)->head = head;
}

void
mould_network_set_shut(MouldNetwork *n, guint link, gboolean shut)
{
    g_return_if_fail(link < n->links->len);
    LINK(n, link)->shut = shut;
}

static gboolean
is_open(const Link *link)
{
    return !link->shut && !link->closed;
}

// Loss without the branching, odd in the flow and growing with it.
static void
find_loss(const MouldNetwork *n, Link *link, double flow, double *lost, double *slope)
{
    const MouldLink *l = &link->l;
    double v = fabs(flow) / l->area, head = v * v / (2 * n->gravity);
    double k = l->loss, dk = 0, linear = 0;
    if (l->length > 0) {
        double reynolds = v * l->diameter / n->viscosity, df, along = l->length / l->diameter;
        if (reynolds < 1) {
            // 64/Re would divide by zero where nothing flows; the loss is linear there.
            linear = 32 * n->viscosity * along / (n->gravity * l->diameter);
        } else {
            k += along * mould_friction(reynolds, l->roughness / l->diameter, &df);
            dk = along * df * reynolds;
        }
    }
    *lost = copysign(k * head + linear * v, flow);
    *slope = ((2 * k + dk) * v / (2 * n->gravity) + linear) / l->area;
}

static double
find_branch(const MouldNetwork *n, const Link *link)
{
    if (link->l.before < 0)
        return 0;
    const Link *before = LINK(n, link->l.before);
    double w = MAX(0, before->flow / before->l.area), step = w - link->flow / link->l.area;
    return (link->l.side * w * w + link->l.through * step * MAX(0, step)) / (2 * n->gravity);
}

static double
find_drop(const MouldNetwork *n, const Link *link)
{
    return NODE(n, link->l.from)->head - NODE(n, link->l.to)->head;
}

static gboolean
is_sound(const MouldNetwork *n, GError **error)
{
    gboolean sound = n->nodes->len > 0 && n->gravity > 0 && n->viscosity > 0;
    for (guint i = 0; i < n->links->len && sound; i++) {
        const MouldLink *l = &LINK(n, i)->l;
        sound = l->from != l->to && l->area > 0 && isfinite(l->area) && l->length >= 0 &&
                isfinite(l->length) && l->loss >= 0 && isfinite(l->loss) && l->roughness >= 0 &&
                isfinite(l->roughness) && (l->length == 0 || l->diameter > 0) &&
                (l->loss > 0 || l->length > 0) && l->side >= 0 && l->through >= 0;
    }
    for (guint i = 0; i < n->nodes->len && sound; i++)
        sound = isfinite(NODE(n, i)->head) && isfinite(NODE(n, i)->inflow);
    return sound || base_error_set(error, BASE_ERROR_VALUE, NULL, _("gating"),
                                   _("a channel has no usable size or no loss"),
                                   _("check the sizes of sprue, runners and gates"));
}

// Does every node reach a given head through links the caller has not shut?
static gboolean
is_joined(const MouldNetwork *n, GError **error)
{
    g_autofree gboolean *reached = g_new0(gboolean, n->nodes->len);
    guint missing = 0;
    for (guint i = 0; i < n->nodes->len; i++)
        reached[i] = NODE(n, i)->fixed;
    for (gboolean again = TRUE; again;) {
        again = FALSE;
        for (guint i = 0; i < n->links->len; i++) {
            const Link *link = LINK(n, i);
            if (link->shut || reached[link->l.from] == reached[link->l.to])
                continue;
            reached[link->l.from] = reached[link->l.to] = again = TRUE;
        }
    }
    for (guint i = 0; i < n->nodes->len; i++)
        missing += !reached[i];
    return missing == 0 ||
           base_error_setf(error, BASE_ERROR_VALUE, NULL, _("gating"), _("join it to the sprue"),
                           _("%u places of the network have no way to a known "
                             "head"),
                           missing);
}

static void
make_matrix(MouldNetwork *n)
{
    n->n_rows = 0;
    for (guint i = 0; i < n->nodes->len; i++)
        if (!NODE(n, i)->fixed)
            NODE(n, i)->row = (int)n->n_rows++;
    n->turned = FALSE;
    for (guint i = 0; i < n->links->len; i++)
        n->turned = n->turned || (LINK(n, i)->l.before >= 0 && LINK(n, i)->l.side > 0);
    gsize size = MAX(1, n->n_rows);
    n->matrix = gsl_matrix_alloc(size, size);
    n->order = gsl_permutation_alloc(size);
    n->right = gsl_vector_alloc(size);
    n->heads = gsl_vector_alloc(size);
    n->reach = g_new(double, n->links->len *size);
}

// Scales of head and flow, from what is given.
static void
find_scales(MouldNetwork *n)
{
    double low = INFINITY, high = -INFINITY, area = 0, inflow = 0;
    for (guint i = 0; i < n->nodes->len; i++) {
        const Node *node = NODE(n, i);
        inflow += fabs(node->inflow);
        if (node->fixed) {
            low = MIN(low, node->head);
            high = MAX(high, node->head);
        }
    }
    for (guint i = 0; i < n->links->len; i++)
        area = MAX(area, LINK(n, i)->l.area);
    double speed = MAX(sqrt(2 * n->gravity * (high - low)), inflow / area);
    n->head_scale = MAX(high - low, speed * speed / (2 * n->gravity));
    n->flow_scale = area * speed;
    if (n->head_scale == 0)
        n->head_scale = n->flow_scale = 1;
}

// First guess of the slopes: every link at the same velocity.
static void
guess(MouldNetwork *n)
{
    for (guint i = 0; i < n->links->len; i++) {
        Link *link = LINK(n, i);
        double speed = sqrt(2 * n->gravity * n->head_scale) / 4, lost, slope;
        find_loss(n, link, speed * link->l.area, &lost, &slope);
        link->flow = link->branch = link->lost = 0;
        link->slope = lost / (speed * link->l.area);
    }
}

// A link's flow after the step as a sum over the heads: given + reach * heads.
static void
linearise(MouldNetwork *n, guint index)
{
    Link *link = LINK(n, index);
    const Node *from = NODE(n, link->l.from), *to = NODE(n, link->l.to);
    double *reach = &n->reach[index * n->n_rows];
    double least = LEAST_SLOPE * n->head_scale / n->flow_scale;
    for (guint r = 0; r < n->n_rows; r++)
        reach[r] = 0;
    link->share = SHUT_SHARE * n->flow_scale / n->head_scale;
    link->given = 0;
    if (is_open(link)) {
        link->share = 1 / MAX(link->slope, least);
        link->given = link->flow - (link->lost + link->branch) * link->share;
    }
    link->given += link->share * ((from->fixed ? from->head : 0) - (to->fixed ? to->head : 0));
    if (from->row >= 0)
        reach[from->row] += link->share;
    if (to->row >= 0)
        reach[to->row] -= link->share;
    if (!is_open(link) || link->l.before < 0 || !(link->l.side > 0))
        return;
    // The velocity before changes too, and with it what turning off costs.
    const Link *before = LINK(n, link->l.before);
    double w = MAX(0, before->flow / before->l.area);
    double pull = link->share * link->l.side * w / (n->gravity * before->l.area);
    const double *other = &n->reach[(guint)link->l.before * n->n_rows];
    link->given -= pull * (before->given - before->flow);
    for (guint r = 0; r < n->n_rows; r++)
        reach[r] -= pull * other[r];
}

static void
add_to_row(MouldNetwork *n, int row, double sign, double given, const double *reach)
{
    if (row < 0)
        return;
    double *entries = gsl_matrix_ptr(n->matrix, (gsize)row, 0);
    for (guint r = 0; r < n->n_rows; r++)
        entries[r] += sign * reach[r];
    *gsl_vector_ptr(n->right, (gsize)row) -= sign * given;
}

// Heads that balance the links as they are linear now, and the change of every flow.
static gboolean
step_heads(MouldNetwork *n)
{
    gsl_matrix_set_zero(n->matrix);
    for (guint i = 0; i < n->nodes->len; i++)
        if (NODE(n, i)->row >= 0)
            gsl_vector_set(n->right, (gsize)NODE(n, i)->row, NODE(n, i)->inflow);
    for (guint i = 0; i < n->links->len; i++) {
        const Link *link = LINK(n, i);
        linearise(n, i);
        const double *reach = &n->reach[i * n->n_rows];
        add_to_row(n, NODE(n, link->l.from)->row, 1, link->given, reach);
        add_to_row(n, NODE(n, link->l.to)->row, -1, link->given, reach);
    }
    if (n->n_rows > 0) {
        int sign;
        gsl_linalg_LU_decomp(n->matrix, n->order, &sign);
        for (guint r = 0; r < n->n_rows; r++)
            if (!(fabs(gsl_matrix_get(n->matrix, r, r)) > 0))
                return FALSE;
        gsl_linalg_LU_solve(n->matrix, n->order, n->right, n->heads);
    }
    for (guint i = 0; i < n->nodes->len; i++)
        if (NODE(n, i)->row >= 0)
            NODE(n, i)->head = gsl_vector_get(n->heads, (gsize)NODE(n, i)->row);
    for (guint i = 0; i < n->links->len; i++) {
        Link *link = LINK(n, i);
        double next = link->given;
        for (guint r = 0; r < n->n_rows; r++)
            next += n->reach[i * n->n_rows + r] * gsl_vector_get(n->heads, r);
        link->change = is_open(link) ? next - link->flow : -link->flow;
    }
    return TRUE;
}

// Slope of the content along the change, `share` of the way.
static double
find_descent(MouldNetwork *n, double share)
{
    double sum = 0;
    for (guint i = 0; i < n->links->len; i++) {
        Link *link = LINK(n, i);
        if (!is_open(link))
            continue;
        double lost, slope;
        find_loss(n, link, link->flow + share * link->change, &lost, &slope);
        sum += link->change * (lost + link->branch - find_drop(n, link));
    }
    return sum;
}

static void
move_flows(MouldNetwork *n, double share)
{
    for (guint i = 0; i < n->links->len; i++) {
        Link *link = LINK(n, i);
        link->flow = is_open(link) ? link->flow + share * link->change : 0;
    }
}

// Greatest difference of any link's loss and its ends' heads.
static double
find_misfit(MouldNetwork *n)
{
    double worst = 0;
    for (guint i = 0; i < n->links->len; i++) {
        Link *link = LINK(n, i);
        double lost, slope;
        find_loss(n, link, link->flow, &lost, &slope);
        if (is_open(link))
            worst = MAX(worst, fabs(lost + find_branch(n, link) - find_drop(n, link)));
    }
    return worst;
}

static void
step_flows(MouldNetwork *n, gboolean whole, double misfit)
{
    double share = 1;
    if (whole || n->turned) {
        move_flows(n, 1);
        if (whole)
            return;
        // Without a content to descend: the heads of the whole step, and flows that fit them.
        for (int i = 0; i < 6 && find_misfit(n) > misfit; i++, share /= 2)
            move_flows(n, -share / 2);
        return;
    }
    double start = find_descent(n, 0);
    for (int i = 0; i < MOST_HALVINGS; i++, share /= 2)
        if (find_descent(n, share) <= 0.5 * fabs(start) + 1e-300)
            break;
    move_flows(n, share);
}

// Greatest misfit, m, after taking the losses anew; *share takes it over the greatest head.
static double
renew_losses(MouldNetwork *n, double *share)
{
    double worst = 0, greatest = n->head_scale;
    for (guint i = 0; i < n->links->len; i++) {
        Link *link = LINK(n, i);
        if (!is_open(link))
            continue;
        find_loss(n, link, link->flow, &link->lost, &link->slope);
        link->branch = find_branch(n, link);
        worst = MAX(worst, fabs(link->lost + link->branch - find_drop(n, link)));
        greatest = MAX(greatest, fabs(link->lost));
    }
    *share = worst / greatest;
    return worst;
}

static gboolean
settle(MouldNetwork *n, GError **error)
{
    double misfit = INFINITY, share = INFINITY;
    for (int i = 0; i < MOST_STEPS && step_heads(n); i++, n->steps++) {
        step_flows(n, i == 0, misfit);
        misfit = renew_losses(n, &share);
        if (share <= TOLERANCE && i > 0)
            return TRUE;
        if (!isfinite(share))
            break;
    }
    return base_error_set(error, BASE_ERROR_VALUE, NULL, _("gating"), _("the flow does not settle"),
                          _("check the sizes of sprue, runners and gates"));
}

// Closes one-way links that flow back and opens those that would flow again. TRUE when any changed.
static gboolean
turn_valves(MouldNetwork *n)
{
    gboolean changed = FALSE;
    for (guint i = 0; i < n->links->len; i++) {
        Link *link = LINK(n, i);
        if (!link->l.one_way || link->shut)
            continue;
        gboolean closed = link->closed
                              ? find_drop(n, link) - find_branch(n, link) <= 1e-9 * n->head_scale
                              : link->flow < 0;
        changed = changed || closed != link->closed;
        link->closed = closed;
    }
    return changed;
}

gboolean
mould_network_solve(MouldNetwork *n, GError **error)
{
    if (!n->matrix) {
        if (!is_sound(n, error))
            return FALSE;
        make_matrix(n);
    }
    if (!is_joined(n, error))
        return FALSE;
    find_scales(n);
    gboolean warm = n->solved;
    if (!warm)
        guess(n);
    else
        renew_losses(n, &n->head_error);
    n->solved = FALSE;
    n->steps = 0;
    guint most = 4 * n->links->len + 4;
    for (guint i = 0; i < most; i++) {
        g_autoptr(GError) unsettled = NULL;
        gboolean settled = settle(n, &unsettled);
        // Valves that run backwards may be what keeps the flow from settling: without them first.
        if (!settled && !turn_valves(n) && !warm) {
            g_propagate_error(error, g_steal_pointer(&unsettled));
            return FALSE;
        }
        if (!settled) {
            warm = FALSE;
            guess(n);
        }
        if (settled && !turn_valves(n)) {
            n->solved = TRUE;
            return TRUE;
        }
    }
    return base_error_set(error, BASE_ERROR_VALUE, NULL, _("gating"), _("the flow does not settle"),
                          _("check the sizes of sprue, runners and gates"));
}

double
mould_network_flow(const MouldNetwork *n, guint link)
{
    g_return_val_if_fail(link < n->links->len, NAN);
    return LINK(n, link)->flow;
}

double
mould_network_velocity(const MouldNetwork *n, guint link)
{
    return fabs(mould_network_flow(n, link)) / LINK(n, link)->l.area;
}

double
mould_network_head(const MouldNetwork *n, guint node)
{
    g_return_val_if_fail(node < n->nodes->len, NAN);
    return NODE(n, node)->head;
}

double
mould_network_lost(const MouldNetwork *n, guint link)
{
    g_return_val_if_fail(link < n->links->len, NAN);
    const Link *l = LINK(n, link);
    return is_open(l) ? l->lost + find_branch(n, l) : 0;
}

double
mould_network_imbalance(const MouldNetwork *n, guint node)
{
    double sum = -NODE(n, node)->inflow;
    for (guint i = 0; i < n->links->len; i++) {
        const Link *link = LINK(n, i);
        sum += link->l.from == node ? link->flow : link->l.to == node ? -link->flow : 0;
    }
    return sum;
}

guint
mould_network_steps(const MouldNetwork *n)
{
    return n->steps;
}
