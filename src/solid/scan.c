// SPDX-License-Identifier: GPL-3.0-or-later
// A scanner for text mesh files. Numbers of up to 15 digits or so take an exact short way (an
// integer below 2^53 times or over a power of ten up to 10^22 rounds once, so it rounds right);
// those of up to 19 digits a longer one where long double has 64 bits; the rest go through
// g_ascii_strtod.
#include "solid/scan.h"

#include <float.h>

#include <string.h>

void
solid_scan_init(SolidScan *scan, const guchar *data, gsize length)
{
    scan->at = (const char *)data;
    scan->end = scan->at + length;
    scan->line = 1;
    if (length >= 3 && memcmp(data, "\xEF\xBB\xBF", 3) == 0)
        scan->at += 3;
}

static inline gboolean
is_blank(char c)
{
    return c == ' ' || c == '\t' || c == '\v' || c == '\f';
}

static inline gboolean
is_line_end(char c)
{
    return c == '\n' || c == '\r';
}

static void
pass_line_end(SolidScan *scan)
{
    if (*scan->at == '\r' && scan->at + 1 < scan->end && scan->at[1] == '\n')
        scan->at++;
    scan->at++;
    scan->line++;
}

static gboolean
take_word(SolidScan *scan, SolidWord *word)
{
    word->text = scan->at;
    while (scan->at < scan->end && !is_blank(*scan->at) && !is_line_end(*scan->at))
        scan->at++;
    word->length = (gsize)(scan->at - word->text);
    return word->length > 0;
}

gboolean
solid_scan_word(SolidScan *scan, SolidWord *word)
{
    while (scan->at < scan->end) {
        if (is_line_end(*scan->at))
            pass_line_end(scan);
        else if (is_blank(*scan->at))
            scan->at++;
        else
            break;
    }
    return take_word(scan, word);
}

gboolean
solid_scan_word_in_line(SolidScan *scan, SolidWord *word)
{
    for (;;) {
        while (scan->at < scan->end && is_blank(*scan->at))
            scan->at++;
        if (scan->end - scan->at < 2 || *scan->at != '\\' || !is_line_end(scan->at[1]))
            break;
        scan->at++;
        pass_line_end(scan);
    }
    return take_word(scan, word);
}

void
solid_scan_skip_line(SolidScan *scan)
{
    while (scan->at < scan->end && !is_line_end(*scan->at))
        scan->at++;
    if (scan->at < scan->end)
        pass_line_end(scan);
}

gboolean
solid_word_is(SolidWord word, const char *keyword)
{
    return strlen(keyword) == word.length &&
           g_ascii_strncasecmp(word.text, keyword, word.length) == 0;
}

// What a decimal number is made of: mantissa * 10^exponent, if no more than 19 digits matter.
typedef struct {
    gboolean negative;
    guint64 mantissa;
    int digits; // that matter
    int exponent;
} Decimal;

static gboolean
parse_exponent(const char *p, const char *end, int *exponent)
{
    gboolean negative = p < end && *p == '-';
    if (p < end && (*p == '-' || *p == '+'))
        p++;
    if (p == end)
        return FALSE;
    int e = 0;
    for (; p < end; p++) {
        if (!g_ascii_isdigit(*p))
            return FALSE;
        e = MIN(e * 10 + (*p - '0'), 100000);
    }
    *exponent += negative ? -e : e;
    return TRUE;
}

static gboolean
parse_decimal(SolidWord word, Decimal *d)
{
    const char *p = word.text, *end = p + word.length;
    gboolean point = FALSE, any = FALSE;
    *d = (Decimal){0};
    if (p < end && (*p == '-' || *p == '+'))
        d->negative = *p++ == '-';
    for (; p < end; p++) {
        unsigned digit = (unsigned)(*p - '0');
        if (digit <= 9) {
            any = TRUE;
            d->exponent -= point;
            if (d->digits > 0 || digit > 0)
                d->digits++;
            if (d->digits <= 19)
                d->mantissa = d->mantissa * 10 + digit;
        } else if (*p == '.' && !point) {
            point = TRUE;
        } else {
            break;
        }
    }
    if (p < end && (*p == 'e' || *p == 'E'))
        return any && parse_exponent(p + 1, end, &d->exponent);
    return any && p == end;
}

static double
convert_slowly(SolidWord word)
{
    char small[64];
    g_autofree char *big = NULL;
    char *text = word.length < sizeof small ? small : (big = g_malloc(word.length + 1));
    memcpy(text, word.text, word.length);
    text[word.length] = '\0';
    return g_ascii_strtod(text, NULL);
}

#if LDBL_MANT_DIG == 64 && G_BYTE_ORDER == G_LITTLE_ENDIAN
// mantissa * 10^exponent for |exponent| <= 27, where powers of ten still fit 64 bits. The one
// operation is right to half a unit of the 64th bit, so rounding to 53 bits can only go wrong where
// it stands exactly half way; then FALSE.
static gboolean
convert_wide(const Decimal *d, double *value)
{
    static const long double ten[] = {1e0L,  1e1L,  1e2L,  1e3L,  1e4L,  1e5L,  1e6L,
                                      1e7L,  1e8L,  1e9L,  1e10L, 1e11L, 1e12L, 1e13L,
                                      1e14L, 1e15L, 1e16L, 1e17L, 1e18L, 1e19L, 1e20L,
                                      1e21L, 1e22L, 1e23L, 1e24L, 1e25L, 1e26L, 1e27L};
    if (d->digits > 19 || ABS(d->exponent) > 27)
        return FALSE;
    long double wide = (long double)d->mantissa;
    wide = d->exponent < 0 ? wide / ten[-d->exponent] : wide * ten[d->exponent];
    guint64 bits;
    memcpy(&bits, &wide, sizeof bits);
    if ((bits & 0x7FF) == 0x400)
        return FALSE;
    *value = d->negative ? -(double)wide : (double)wide;
    return TRUE;
}
#else
static gboolean
convert_wide(const Decimal *d, double *value)
{
    return FALSE;
}
#endif

gboolean
solid_word_number(SolidWord word, double *value)
{
    static const double ten[] = {1e0,  1e1,  1e2,  1e3,  1e4,  1e5,  1e6,  1e7,
                                 1e8,  1e9,  1e10, 1e11, 1e12, 1e13, 1e14, 1e15,
                                 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22};
    Decimal d;
    if (!parse_decimal(word, &d))
        return FALSE;
    if (d.mantissa == 0) {
        *value = d.negative ? -0.0 : 0.0;
    } else if (d.digits <= 19 && d.mantissa <= (1ull << 53) && ABS(d.exponent) <= 22) {
        double m = (double)d.mantissa;
        m = d.exponent < 0 ? m / ten[-d.exponent] : m * ten[d.exponent];
        *value = d.negative ? -m : m;
    } else if (!convert_wide(&d, value)) {
        *value = convert_slowly(word);
    }
    return TRUE;
}

gboolean
solid_word_integer(SolidWord word, gint64 *value)
{
    const char *p = word.text, *end = p + word.length;
    gboolean negative = p < end && *p == '-';
    if (p < end && (*p == '-' || *p == '+'))
        p++;
    if (p == end || end - p > 18)
        return FALSE;
    gint64 v = 0;
    for (; p < end; p++) {
        if (!g_ascii_isdigit(*p))
            return FALSE;
        v = v * 10 + (*p - '0');
    }
    *value = negative ? -v : v;
    return TRUE;
}

char *
solid_word_quoted(SolidWord word)
{
    GString *text = g_string_new("\"");
    for (gsize i = 0; i < word.length && i < 24; i++)
        g_string_append_c(text, g_ascii_isprint(word.text[i]) ? word.text[i] : '?');
    g_string_append(text, word.length > 24 ? "...\"" : "\"");
    return g_string_free(text, FALSE);
}

char *
solid_text_printable(const char *text)
{
    g_autofree char *valid = g_utf8_make_valid(text, -1);
    GString *out = g_string_new(NULL);
    for (const char *p = valid; *p; p = g_utf8_next_char(p)) {
        gunichar c = g_utf8_get_char(p);
        g_string_append_unichar(out, g_unichar_isprint(c) ? c : '?');
    }
    return g_string_free(out, FALSE);
}
