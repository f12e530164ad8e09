// SPDX-License-Identifier: GPL-3.0-or-later
// Quantities as people type them. The first byte chooses the kind, the second the shop's units.
// What is read must also be shown, and what is written exactly must be read back.
#include "corpus.h"
#include "units/quantity.h"

#include <math.h>

int
LLVMFuzzerTestOneInput(const guint8 *data, gsize size)
{
    g_autoptr(GError) error = NULL;
    if (size < 2)
        return 0;
    QuantityKind kind = data[0] % QUANTITY_KINDS;
    UnitSet units = unit_set_default();
    units.inches = data[1] & 1;
    units.pounds = (data[1] >> 1) & 1;
    units.fahrenheit = (data[1] >> 2) & 1;
    units.decimal_comma = (data[1] >> 3) & 1;
    if (kind == QUANTITY_TEXT || kind == QUANTITY_DATE)
        return 0;
    g_autofree char *raw = g_strndup((const char *)data + 2, size - 2);
    g_autofree char *text = g_utf8_make_valid(raw, -1);
    double si = 12345, again = 0;
    if (!quantity_parse(kind, text, &units, &si, &error)) {
        g_assert_nonnull(error);
        g_assert_cmpfloat(si, ==, 12345);
        return 0;
    }
    g_assert_true(isfinite(si));
    g_autofree char *shown = quantity_format(kind, si, &units);
    g_assert_nonnull(shown);
    g_autofree char *exact = quantity_format_exact(kind, si, &units);
    g_assert_true(quantity_parse(kind, exact, &units, &again, &error));
    g_assert_cmpfloat(fabs(again - si), <=, 4 * G_MINDOUBLE + 1e-15 * fabs(si));
    return 0;
}

void
fuzz_corpus(GPtrArray *corpus)
{
    static const char *const texts[] = {
        "12.5 mm", "3/4 in", "1 3/4 in", "2 ft 3 1/2 in", "0,5 kg",    "2 lb 3 oz",
        "5 ozt",   "720 C",  "1300 F",   "993 K",         "1.5 deg",   "1 h 20 min",
        "1.3 %",   "1e-3 m", "-4",       "7.2 g/cm3",     "25 cm3/min"};
    for (gsize i = 0; i < G_N_ELEMENTS(texts); i++)
        for (int kind = 1; kind < QUANTITY_KINDS; kind++) {
            g_autofree char *text = g_strdup_printf("%c%c%s", kind, 16 + kind % 16, texts[i]);
            fuzz_corpus_text(corpus, text);
        }
}
