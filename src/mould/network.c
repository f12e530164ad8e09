// SPDX-License-Identifier: GPL-3.0-or-later
// The flow network: nodes and links, and Newton's steps on them.
#include "mould/network.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "base/error.h"
#include "mould/loss.h"
#include "mould/skyline.h"

#define TOLERANCE 1e-11 // of the greatest head; what is promised is 1e-10
#define MOST_STEPS 400
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
    double branch;       // m, head lost at the branching before it, as of the last step
    double lost, slope;  // m and s/m2, at `flow`, without the branching
    double given, share; // flow = given + share * difference of head, in the step
    double change;
} Link;

struct MouldNetwork {
    double gravity, viscosity;
    GArray *nodes, *links;
    MouldSkyline *matrix; // NULL until the first solve and after each change of the topology
    double *right;
    guint n_rows, steps;
    double head_scale, flow_scale;
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
    g_clear_pointer(&n->matrix, mould_skyline_free);
    g_clear_pointer(&n->right, g_free);
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
    double w = before->flow / before->l.area, v = link->flow / link->l.area;
    if (w <= 0 || v < 0)
        return 0;
    double step = w - v;
    return (link->l.side * w * w + link->l.through * step * step) / (2 * n->gravity);
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
    n->matrix = mould_skyline_new(n->n_rows);
    n->right = g_new0(double, n->n_rows + 1);
    for (guint i = 0; i < n->links->len; i++) {
        int a = NODE(n, LINK(n, i)->l.from)->row, b = NODE(n, LINK(n, i)->l.to)->row;
        if (a >= 0 && b >= 0)
            mould_skyline_reserve(n->matrix, (guint)a, (guint)b);
    }
    mould_skyline_seal(n->matrix);
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

// Heads by the links as they are linear now, and the change of every flow.
static void
step_heads(MouldNetwork *n)
{
    double least = LEAST_SLOPE * n->head_scale / n->flow_scale;
    mould_skyline_clear(n->matrix);
    for (guint i = 0; i < n->nodes->len; i++)
        if (NODE(n, i)->row >= 0)
            n->right[NODE(n, i)->row] = NODE(n, i)->inflow;
    for (guint i = 0; i < n->links->len; i++) {
        Link *link = LINK(n, i);
        const Node *from = NODE(n, link->l.from), *to = NODE(n, link->l.to);
        link->share = SHUT_SHARE * n->flow_scale / n->head_scale;
        link->given = 0;
        if (is_open(link)) {
            link->share = 1 / MAX(link->slope, least);
            link->given = link->flow - (link->lost + link->branch) * link->share;
        }
        double fixed = link->given +
                       link->share * ((from->fixed ? from->head : 0) - (to->fixed ? to->head : 0));
        if (from->row >= 0)
            n->right[from->row] -= fixed;
        if (to->row >= 0)
            n->right[to->row] += fixed;
        mould_skyline_join(n->matrix, from->row, to->row, link->share);
    }
    mould_skyline_solve(n->matrix, n->right);
    for (guint i = 0; i < n->nodes->len; i++)
        if (NODE(n, i)->row >= 0)
            NODE(n, i)->head = n->right[NODE(n, i)->row];
    for (guint i = 0; i < n->links->len; i++) {
        Link *link = LINK(n, i);
        double next = link->given + link->share * find_drop(n, link);
        link->change = is_open(link) ? next - link->flow : -link->flow;
    }
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
step_flows(MouldNetwork *n, gboolean whole)
{
    double share = 1;
    if (!whole) {
        double start = find_descent(n, 0);
        for (int i = 0; i < MOST_HALVINGS; i++, share /= 2)
            if (find_descent(n, share) <= 0.5 * fabs(start) + 1e-300)
                break;
    }
    for (guint i = 0; i < n->links->len; i++) {
        Link *link = LINK(n, i);
        link->flow = is_open(link) ? link->flow + share * link->change : 0;
    }
}

// Greatest error of any link's head, after taking the losses anew. The part of a new branching loss
// that is taken over is `share`.
static double
find_error(MouldNetwork *n, double share)
{
    double worst = 0, greatest = n->head_scale;
    for (guint i = 0; i < n->links->len; i++) {
        Link *link = LINK(n, i);
        if (!is_open(link))
            continue;
        find_loss(n, link, link->flow, &link->lost, &link->slope);
        double branch = find_branch(n, link);
        worst = MAX(worst, fabs(link->lost + branch - find_drop(n, link)));
        greatest = MAX(greatest, fabs(link->lost));
        link->branch += share * (branch - link->branch);
    }
    return worst / greatest;
}

static gboolean
settle(MouldNetwork *n, GError **error)
{
    double last = INFINITY, share = 1;
    for (int i = 0; i < MOST_STEPS; i++, n->steps++) {
        step_heads(n);
        step_flows(n, i == 0);
        double now = find_error(n, share);
        if (now <= TOLERANCE && i > 0)
            return TRUE;
        if (!isfinite(now))
            break;
        // Branchings that chase each other are taken over in smaller parts.
        if (i > 5 && now > 0.9 * last)
            share = MAX(0.1, 0.7 * share);
        last = now;
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
    if (!n->solved)
        guess(n);
    else
        find_error(n, 1);
    n->solved = FALSE;
    n->steps = 0;
    guint most = 4 * n->links->len + 4;
    for (guint i = 0; i < most; i++) {
        if (!settle(n, error))
            return FALSE;
        if (!turn_valves(n)) {
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
