// SPDX-License-Identifier: GPL-3.0-or-later
// Reads JSON strictly and straight into Nodes. It is our own, and not the library's reader, for
// three reasons: a number must come back with the digits it had (a double loses long whole numbers
// and trailing zeros), a message must name line and column in our words, and the depth must be
// bounded while reading, before any recursion can run away.
#include "book/scan.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "base/error.h"

typedef struct {
    const char *start, *at, *end;
    const char *name;
    guint depth, max_depth;
    guint nodes;
    GError **error;
} Scan;

typedef struct {
    GPtrArray *names;  // char*, of an object only
    GPtrArray *values; // Node*
    GHashTable *seen;  // of an object only: names
} Parts;

static Node *read_value(Scan *scan);

// Sets the error with line and column of `at`, counted from 1, columns in characters.
static gboolean
fail_at(Scan *scan, BaseError code, const char *at, const char *what, const char *remedy)
{
    guint line = 1;
    const char *begin = scan->start;
    for (const char *p = scan->start; p < at; p++)
        if (*p == '\n') {
            line++;
            begin = p + 1;
        }
    glong column = g_utf8_strlen(begin, at - begin) + 1;
    g_autofree char *place = g_strdup_printf(_("line %u, column %ld"), line, column);
    return base_error_set(scan->error, code, scan->name, place, what, remedy);
}

static gboolean
fail_damaged(Scan *scan, const char *what)
{
    return fail_at(scan, BASE_ERROR_FORMAT, scan->at, what,
                   _("mend the text there or take an earlier copy"));
}

static gboolean
fail_unexpected(Scan *scan, const char *wanted)
{
    g_autofree char *what = NULL;
    if (scan->at >= scan->end) {
        what = g_strdup_printf(_("the text ends where %s should come"), wanted);
    } else {
        gunichar c = g_utf8_get_char(scan->at);
        char found[7] = {0};
        g_unichar_to_utf8(c, found);
        if (g_unichar_isprint(c))
            what = g_strdup_printf(_("found \"%s\" where %s should come"), found, wanted);
        else
            what = g_strdup_printf(_("found U+%04X where %s should come"), c, wanted);
    }
    return fail_damaged(scan, what);
}

static void
skip_space(Scan *scan)
{
    while (scan->at < scan->end && strchr(" \t\r\n", *scan->at) && *scan->at)
        scan->at++;
}

static gboolean
take(Scan *scan, char c)
{
    if (scan->at >= scan->end || *scan->at != c)
        return FALSE;
    scan->at++;
    return TRUE;
}

// Four hex digits after "\u".
static gboolean
read_hex(Scan *scan, gunichar *value)
{
    gunichar sum = 0;
    for (int i = 0; i < 4; i++) {
        if (scan->at >= scan->end || !g_ascii_isxdigit(*scan->at))
            return fail_unexpected(scan, _("four hexadecimal digits"));
        sum = sum * 16 + (gunichar)g_ascii_xdigit_value(*scan->at++);
    }
    *value = sum;
    return TRUE;
}

static gboolean
read_unicode_escape(Scan *scan, GString *text)
{
    gunichar high, low;
    if (!read_hex(scan, &high))
        return FALSE;
    if (high == 0)
        return fail_damaged(scan, _("a text holds the character U+0000"));
    if (high >= 0xd800 && high < 0xdc00) {
        if (!take(scan, '\\') || !take(scan, 'u'))
            return fail_damaged(scan, _("half a surrogate pair"));
        if (!read_hex(scan, &low))
            return FALSE;
        if (low < 0xdc00 || low > 0xdfff)
            return fail_damaged(scan, _("half a surrogate pair"));
        high = 0x10000 + ((high - 0xd800) << 10) + (low - 0xdc00);
    } else if (high >= 0xdc00 && high <= 0xdfff) {
        return fail_damaged(scan, _("half a surrogate pair"));
    }
    g_string_append_unichar(text, high);
    return TRUE;
}

static gboolean
read_escape(Scan *scan, GString *text)
{
    static const char from[] = "\"\\/bfnrt", to[] = "\"\\/\b\f\n\r\t";
    if (take(scan, 'u'))
        return read_unicode_escape(scan, text);
    const char *found = scan->at < scan->end && *scan->at ? memchr(from, *scan->at, sizeof from - 1)
                                                          : NULL;
    if (!found)
        return fail_unexpected(scan, _("an escape such as \\n"));
    g_string_append_c(text, to[found - from]);
    scan->at++;
    return TRUE;
}

// A text with its quotes; NULL on error. Free.
static char *
read_text(Scan *scan)
{
    if (!take(scan, '"')) {
        fail_unexpected(scan, _("a text in double quotes"));
        return NULL;
    }
    const char *opening = scan->at - 1;
    g_autoptr(GString) text = g_string_new(NULL);
    while (TRUE) {
        const char *plain = scan->at;
        while (scan->at < scan->end && (guchar)*scan->at >= 0x20 && *scan->at != '"' &&
               *scan->at != '\\')
            scan->at++;
        g_string_append_len(text, plain, scan->at - plain);
        if (scan->at >= scan->end) {
            scan->at = opening;
            fail_damaged(scan, _("a text that starts here never ends"));
            return NULL;
        }
        if (take(scan, '"'))
            return g_strdup(text->str);
        if (!take(scan, '\\')) {
            fail_damaged(scan, _("a control character inside a text"));
            return NULL;
        }
        if (!read_escape(scan, text))
            return NULL;
    }
}

static gboolean
skip_digits(Scan *scan)
{
    if (scan->at >= scan->end || !g_ascii_isdigit(*scan->at))
        return fail_unexpected(scan, _("a digit"));
    while (scan->at < scan->end && g_ascii_isdigit(*scan->at))
        scan->at++;
    return TRUE;
}

static Node *
read_number(Scan *scan)
{
    const char *begin = scan->at;
    take(scan, '-');
    if (!take(scan, '0') && !skip_digits(scan))
        return NULL;
    if (take(scan, '.') && !skip_digits(scan))
        return NULL;
    if (take(scan, 'e') || take(scan, 'E')) {
        if (!take(scan, '+'))
            take(scan, '-');
        if (!skip_digits(scan))
            return NULL;
    }
    g_autofree char *text = g_strndup(begin, scan->at - begin);
    return node_new_number_text(text);
}

static gboolean
take_word(Scan *scan, const char *word)
{
    gsize n = strlen(word);
    if ((gsize)(scan->end - scan->at) < n || memcmp(scan->at, word, n) != 0)
        return FALSE;
    scan->at += n;
    return TRUE;
}

static gboolean
read_name(Scan *scan, Parts *parts)
{
    const char *begin = scan->at;
    g_autofree char *name = read_text(scan);
    if (!name)
        return FALSE;
    if (g_hash_table_contains(parts->seen, name)) {
        g_autofree char *what = g_strdup_printf(_("member \"%s\" stands here a second time"), name);
        return fail_at(scan, BASE_ERROR_FORMAT, begin, what, _("remove one of the two"));
    }
    skip_space(scan);
    if (!take(scan, ':'))
        return fail_unexpected(scan, "\":\"");
    g_ptr_array_add(parts->names, name);
    g_hash_table_add(parts->seen, g_steal_pointer(&name));
    return TRUE;
}

// Everything between the brackets, and the closing one.
static gboolean
read_parts(Scan *scan, char closing, Parts *parts)
{
    skip_space(scan);
    if (take(scan, closing))
        return TRUE;
    while (TRUE) {
        skip_space(scan);
        if (parts->names && !read_name(scan, parts))
            return FALSE;
        Node *value = read_value(scan);
        if (!value)
            return FALSE;
        g_ptr_array_add(parts->values, value);
        skip_space(scan);
        if (take(scan, closing))
            return TRUE;
        if (!take(scan, ','))
            return fail_unexpected(scan, closing == '}' ? "\",\" or \"}\"" : "\",\" or \"]\"");
    }
}

static Node *
read_parent(Scan *scan, char closing)
{
    if (++scan->depth > scan->max_depth) {
        g_autofree char *what = g_strdup_printf(
            _("lists and objects lie deeper than %u in one another"), scan->max_depth);
        fail_at(scan, BASE_ERROR_LIMIT, scan->at - 1, what,
                _("no book needs that; check the file"));
        return NULL;
    }
    Parts parts = {.values = g_ptr_array_new()};
    if (closing == '}') {
        parts.names = g_ptr_array_new();
        parts.seen = g_hash_table_new(g_str_hash, g_str_equal);
    }
    Node *node = NULL;
    gboolean good = read_parts(scan, closing, &parts);
    Node **values = (Node **)parts.values->pdata;
    if (good && parts.names)
        node = node_new_object_of((char **)parts.names->pdata, values, parts.values->len);
    else if (good)
        node = node_new_list_of(values, parts.values->len);
    else
        g_ptr_array_foreach(parts.values, (GFunc)(void (*)(void))node_unref, NULL);
    if (!good && parts.names)
        g_ptr_array_foreach(parts.names, (GFunc)(void (*)(void))g_free, NULL);
    g_ptr_array_unref(parts.values);
    g_clear_pointer(&parts.names, g_ptr_array_unref);
    g_clear_pointer(&parts.seen, g_hash_table_unref);
    scan->depth--;
    return node;
}

static Node *
read_value(Scan *scan)
{
    if (++scan->nodes > SCAN_MAX_NODES) {
        fail_at(scan, BASE_ERROR_LIMIT, scan->at, _("more than a million values"),
                _("no book needs that; check the file"));
        return NULL;
    }
    skip_space(scan);
    if (scan->at < scan->end && *scan->at == '"') {
        g_autofree char *text = read_text(scan);
        return text ? node_new_text(text) : NULL;
    }
    if (scan->at < scan->end && (*scan->at == '-' || g_ascii_isdigit(*scan->at)))
        return read_number(scan);
    if (take(scan, '{'))
        return read_parent(scan, '}');
    if (take(scan, '['))
        return read_parent(scan, ']');
    if (take_word(scan, "true"))
        return node_new_bool(TRUE);
    if (take_word(scan, "false"))
        return node_new_bool(FALSE);
    if (take_word(scan, "null"))
        return node_new_null();
    fail_unexpected(scan, _("a value"));
    return NULL;
}

Node *
scan_text(const char *text, gsize length, const char *name, guint max_depth, GError **error)
{
    g_return_val_if_fail(text != NULL || length == 0, NULL);
    if (length >= 3 && memcmp(text, "\xef\xbb\xbf", 3) == 0) { // byte order mark
        text += 3;
        length -= 3;
    }
    Scan scan = {text, text, text + length, name, 0, max_depth, 0, error};
    const char *bad = text;
    if (length > 0 && !g_utf8_validate_len(text, length, &bad) && *bad != '\0') {
        fail_at(&scan, BASE_ERROR_FORMAT, bad, _("bytes that are not UTF-8 text"),
                _("save the file as UTF-8"));
        return NULL;
    }
    if (bad < scan.end && length > 0) {
        fail_at(&scan, BASE_ERROR_FORMAT, bad, _("a zero byte"), _("this is not a text file"));
        return NULL;
    }
    g_autoptr(Node) node = read_value(&scan);
    if (!node)
        return NULL;
    skip_space(&scan);
    if (scan.at < scan.end) {
        fail_unexpected(&scan, _("the end"));
        return NULL;
    }
    return g_steal_pointer(&node);
}
