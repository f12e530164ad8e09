// SPDX-License-Identifier: GPL-3.0-or-later
// How castings turned out: read from the log, and edits of it.
#include <glib/gi18n-lib.h>

#include "base/error.h"
#include "book/log-members.h"
#include "live/log.h"
#include "live/node-kit.h"

static void
add_casting(GArray *castings, const Node *node, LiveCasting casting)
{
    const Node *good = node_member(node, "good");
    casting.judged = node_kind(good) == NODE_BOOL;
    casting.good = casting.judged && node_bool(good);
    casting.cause = live_get_text(node, "cause");
    casting.why = live_get_text(node, "why");
    casting.mass = live_get_text(node, "mass");
    const char *own = live_get_text(node, "job"); // in a shared flask
    casting.guest = own && g_strcmp0(own, casting.job) != 0;
    if (own)
        casting.job = own;
    g_array_append_val(castings, casting);
}

GArray *
live_log_castings(const Book *book, guint session)
{
    g_return_val_if_fail(book != NULL, NULL);
    GArray *castings = g_array_new(FALSE, FALSE, sizeof(LiveCasting));
    const Node *sessions = node_get(book_root(book), "/log/sessions");
    const Node *loads = node_member(node_at(sessions, session), "loads");
    guint flask = 0;
    for (guint l = 0; session < node_size(sessions) && l < node_size(loads); l++) {
        const Node *flasks = node_member(node_at(loads, l), "flasks");
        for (guint f = 0; f < node_size(flasks); f++, flask++) {
            const Node *list = node_member(node_at(flasks, f), "castings");
            const char *job = live_get_text(node_at(flasks, f), "job");
            const char *kind = live_get_text(node_at(flasks, f), "flask");
            for (guint c = 0; c < node_size(list); c++)
                add_casting(castings, node_at(list, c),
                            (LiveCasting){.session = session,
                                          .load = l,
                                          .flask = flask,
                                          .casting = c,
                                          .in_load = f,
                                          .job = job,
                                          .kind = kind});
        }
    }
    return castings;
}

// The casting's node and place; NULL with an error that counts from 1, as people do.
static const Node *
find_casting(const Book *book, guint session, guint flask, guint casting, char **place,
             GError **error)
{
    guint sessions = live_log_sessions(book);
    if (session >= sessions) {
        base_error_setf(error, BASE_ERROR_NOT_FOUND, NULL, "log", NULL,
                        _("there is no session %u; the log has %u"), session + 1, sessions);
        return NULL;
    }
    g_autoptr(GArray) castings = live_log_castings(book, session);
    for (guint i = 0; i < castings->len; i++) {
        const LiveCasting *one = &g_array_index(castings, LiveCasting, i);
        if (one->flask != flask || one->casting != casting)
            continue;
        *place = g_strdup_printf("/log/sessions/%u/loads/%u/flasks/%u/castings/%u", session,
                                 one->load, one->in_load, casting);
        return node_get(book_root(book), *place);
    }
    base_error_setf(
        error, BASE_ERROR_NOT_FOUND, NULL, "log", _("look at the list of castings of the session"),
        _("session %u has no casting %u in flask %u"), session + 1, casting + 1, flask + 1);
    return NULL;
}

static gboolean
check_verdict(const Book *book, const LiveVerdict *verdict, GError **error)
{
    UnitSet units = book_units(book);
    double mass = 0;
    if (verdict->cause && *verdict->cause && (verdict->good || !verdict->judge))
        return base_error_set(error, BASE_ERROR_VALUE, NULL, "cause", _("only scrap has a cause"),
                              _("leave it out"));
    if (verdict->cause && *verdict->cause && !log_cause_find(verdict->cause))
        return base_error_setf(error, BASE_ERROR_VALUE, NULL, "cause",
                               _("use misrun, shrinkage, gas, sand, mismatch, short-pour, drop or "
                                 "other"),
                               _("\"%s\" is none of the causes"), verdict->cause);
    if (!verdict->mass || !*verdict->mass)
        return TRUE;
    if (!quantity_parse(QUANTITY_MASS, verdict->mass, &units, &mass, error)) {
        g_prefix_error(error, "mass: ");
        return FALSE;
    }
    if (!(mass > 0))
        return base_error_set(error, BASE_ERROR_VALUE, NULL, "mass", _("is nothing or less"),
                              _("give what the scale shows"));
    return TRUE;
}

static void
drop(Node **node, const char *name)
{
    g_autoptr(Node) before = *node;
    *node = node_member(before, name) ? node_with_member(before, name, NULL) : node_ref(before);
}

Edit *
live_log_verdict(const Book *book, guint session, guint flask, guint casting,
                 const LiveVerdict *verdict, GError **error)
{
    g_return_val_if_fail(book != NULL && verdict != NULL, NULL);
    g_autofree char *place = NULL;
    const Node *node = find_casting(book, session, flask, casting, &place, error);
    if (!node || !check_verdict(book, verdict, error))
        return NULL;
    Node *changed = node_ref(node);
    if (verdict->judge) {
        live_put(&changed, "good", node_new_bool(verdict->good));
        if (verdict->good || (verdict->cause && *verdict->cause))
            drop(&changed, "cause");
        if (verdict->good)
            drop(&changed, "why");
        if (verdict->cause && *verdict->cause)
            live_put_text(&changed, "cause", verdict->cause);
    }
    if (verdict->mass && *verdict->mass)
        live_put_text(&changed, "mass", verdict->mass);
    Edit *edit = edit_set(place, changed, _("Judge a casting"));
    node_unref(changed);
    return edit;
}

Edit *
live_log_unjudge(const Book *book, guint session, guint flask, guint casting, GError **error)
{
    g_return_val_if_fail(book != NULL, NULL);
    g_autofree char *place = NULL;
    const Node *node = find_casting(book, session, flask, casting, &place, error);
    if (!node)
        return NULL;
    Node *changed = node_ref(node);
    drop(&changed, "good");
    drop(&changed, "cause");
    drop(&changed, "why");
    Edit *edit = edit_set(place, changed, _("Take a judgement back"));
    node_unref(changed);
    return edit;
}
