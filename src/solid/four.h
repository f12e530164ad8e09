// SPDX-License-Identifier: GPL-3.0-or-later
// Four floats at a time, with the one instruction set every machine of a kind has, so that results
// are the same on all of them. Inside solid/ only.
#pragma once

#include <glib.h>
#ifdef __SSE2__
#include <emmintrin.h>
#endif

G_BEGIN_DECLS

#ifdef __SSE2__

typedef __m128 Four;

static inline Four
four_load(const float *p)
{
    return _mm_loadu_ps(p);
}

static inline void
four_store(float *p, Four a)
{
    _mm_storeu_ps(p, a);
}

static inline Four
four_all(float value)
{
    return _mm_set1_ps(value);
}

static inline Four
four_add(Four a, Four b)
{
    return _mm_add_ps(a, b);
}

static inline Four
four_subtract(Four a, Four b)
{
    return _mm_sub_ps(a, b);
}

static inline Four
four_multiply(Four a, Four b)
{
    return _mm_mul_ps(a, b);
}

static inline Four
four_least(Four a, Four b)
{
    return _mm_min_ps(a, b);
}

static inline Four
four_most(Four a, Four b)
{
    return _mm_max_ps(a, b);
}

// A bit for each a <= b, the first the lowest.
static inline guint
four_at_most(Four a, Four b)
{
    return (guint)_mm_movemask_ps(_mm_cmple_ps(a, b));
}

#else

typedef struct {
    float at[4];
} Four;

static inline Four
four_load(const float *p)
{
    return (Four){{p[0], p[1], p[2], p[3]}};
}

static inline void
four_store(float *p, Four a)
{
    for (int i = 0; i < 4; i++)
        p[i] = a.at[i];
}

static inline Four
four_all(float value)
{
    return (Four){{value, value, value, value}};
}

static inline Four
four_add(Four a, Four b)
{
    for (int i = 0; i < 4; i++)
        a.at[i] += b.at[i];
    return a;
}

static inline Four
four_subtract(Four a, Four b)
{
    for (int i = 0; i < 4; i++)
        a.at[i] -= b.at[i];
    return a;
}

static inline Four
four_multiply(Four a, Four b)
{
    for (int i = 0; i < 4; i++)
        a.at[i] *= b.at[i];
    return a;
}

static inline Four
four_least(Four a, Four b)
{
    for (int i = 0; i < 4; i++)
        a.at[i] = a.at[i] < b.at[i] ? a.at[i] : b.at[i];
    return a;
}

static inline Four
four_most(Four a, Four b)
{
    for (int i = 0; i < 4; i++)
        a.at[i] = a.at[i] > b.at[i] ? a.at[i] : b.at[i];
    return a;
}

static inline guint
four_at_most(Four a, Four b)
{
    guint bits = 0;
    for (int i = 0; i < 4; i++)
        bits |= (guint)(a.at[i] <= b.at[i]) << i;
    return bits;
}

#endif

G_END_DECLS
