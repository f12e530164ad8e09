// SPDX-License-Identifier: GPL-3.0-or-later
// L D L^T of a symmetric matrix within its skyline.
#include "mould/skyline.h"

struct MouldSkyline {
    guint size;
    guint *first;  // column a row starts at
    gsize *starts; // place of column 0 in `value`, would the row reach so far
    double *value;
    gsize n_values;
};

MouldSkyline *
mould_skyline_new(guint size)
{
    MouldSkyline *m = g_new0(MouldSkyline, 1);
    m->size = size;
    m->first = g_new(guint, size + 1);
    m->starts = g_new0(gsize, size + 1);
    for (guint i = 0; i < size; i++)
        m->first[i] = i;
    return m;
}

void
mould_skyline_free(MouldSkyline *m)
{
    if (!m)
        return;
    g_free(m->first);
    g_free(m->starts);
    g_free(m->value);
    g_free(m);
}

void
mould_skyline_reserve(MouldSkyline *m, guint a, guint b)
{
    guint row = MAX(a, b), column = MIN(a, b);
    m->first[row] = MIN(m->first[row], column);
}

void
mould_skyline_seal(MouldSkyline *m)
{
    gsize at = 0;
    for (guint i = 0; i < m->size; i++) {
        m->starts[i] = at;
        at += i - m->first[i] + 1;
    }
    m->n_values = at;
    m->value = g_new0(double, at + 1);
}

void
mould_skyline_clear(MouldSkyline *m)
{
    for (gsize i = 0; i < m->n_values; i++)
        m->value[i] = 0;
}

static double *
find_entry(MouldSkyline *m, guint row, guint column)
{
    return &m->value[m->starts[row] + (column - m->first[row])];
}

void
mould_skyline_join(MouldSkyline *m, int a, int b, double conductance)
{
    if (a >= 0)
        *find_entry(m, (guint)a, (guint)a) += conductance;
    if (b >= 0)
        *find_entry(m, (guint)b, (guint)b) += conductance;
    if (a >= 0 && b >= 0)
        *find_entry(m, (guint)MAX(a, b), (guint)MIN(a, b)) -= conductance;
}

// Row by row: entries left of the diagonal become L times D, then L; the diagonal becomes D.
static void
factor(MouldSkyline *m)
{
    for (guint i = 0; i < m->size; i++) {
        double *row = find_entry(m, i, m->first[i]), diagonal = row[i - m->first[i]];
        for (guint j = m->first[i]; j < i; j++) {
            const double *other = find_entry(m, j, m->first[j]);
            double sum = row[j - m->first[i]];
            for (guint k = MAX(m->first[i], m->first[j]); k < j; k++)
                sum -= row[k - m->first[i]] * other[k - m->first[j]];
            row[j - m->first[i]] = sum;
        }
        for (guint j = m->first[i]; j < i; j++) {
            double scaled = row[j - m->first[i]] / *find_entry(m, j, j);
            diagonal -= scaled * row[j - m->first[i]];
            row[j - m->first[i]] = scaled;
        }
        row[i - m->first[i]] = diagonal;
    }
}

void
mould_skyline_solve(MouldSkyline *m, double *right)
{
    factor(m);
    for (guint i = 0; i < m->size; i++)
        for (guint j = m->first[i]; j < i; j++)
            right[i] -= *find_entry(m, i, j) * right[j];
    for (guint i = 0; i < m->size; i++)
        right[i] /= *find_entry(m, i, i);
    for (guint i = m->size; i-- > 0;)
        for (guint j = m->first[i]; j < i; j++)
            right[j] -= *find_entry(m, i, j) * right[i];
}
