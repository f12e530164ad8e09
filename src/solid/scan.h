// SPDX-License-Identifier: GPL-3.0-or-later
// Private to solid/: words, numbers and lines of a text that is not ended by a zero byte. Numbers
// never follow the locale.
#pragma once

#include <glib.h>

G_BEGIN_DECLS

typedef struct {
    const char *at, *end;
    guint64 line; // of `at`, from 1; CR, LF and CR LF each end a line
} SolidScan;

typedef struct {
    const char *text;
    gsize length;
} SolidWord;

// Starts after a UTF-8 byte order mark, if there is one.
void solid_scan_init(SolidScan *scan, const guchar *data, gsize length);
// The next word, on this line or a later one. FALSE at the end of the text.
gboolean solid_scan_word(SolidScan *scan, SolidWord *word);
// The next word on this line; a lone backslash at its end joins the next line. FALSE if none.
gboolean solid_scan_word_in_line(SolidScan *scan, SolidWord *word);
void solid_scan_skip_line(SolidScan *scan);

gboolean solid_word_is(SolidWord word, const char *keyword); // in any case of letters
// The whole word a decimal number, correctly rounded; no infinities, no hexadecimal. *value only on
// success; it may be infinite if the number is too large.
gboolean solid_word_number(SolidWord word, double *value);
gboolean solid_word_integer(SolidWord word, gint64 *value);
// For messages: in quotes, at most 24 characters, plain ones only. Free with g_free.
char *solid_word_quoted(SolidWord word);
// Text of strangers on one line: every character that does not print becomes "?". Free with g_free.
char *solid_text_printable(const char *text);

G_END_DECLS
