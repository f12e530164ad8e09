// SPDX-License-Identifier: GPL-3.0-or-later
// Putting answers in order: metal, then depth of draw, then parting area.
#include "part/search-rank.h"

#include <stdlib.h>
#include <string.h>

#define EQUAL 0.005 // of the casting's volume: no difference

static int
compare_answers(gconstpointer a, gconstpointer b)
{
    const SearchAnswer *x = a, *y = b;
    return x->added < y->added ? -1 : x->added > y->added;
}

void
search_sort(SearchAnswer *answers, guint n)
{
    qsort(answers, n, sizeof *answers, compare_answers);
}

static gboolean
is_better(const SearchAnswer *a, const SearchAnswer *b, double cell)
{
    double deep = fmax(a->depth_cope, a->depth_drag) - fmax(b->depth_cope, b->depth_drag);
    if (fabs(deep) > cell)
        return deep < 0;
    double area = a->parting_area - b->parting_area;
    if (fabs(area) > 0.02 * a->parting_area)
        return area < 0;
    return a->kind < b->kind;
}

void
search_rank(SearchResult *r, double cell)
{
    search_sort(r->answers, r->n);
    for (guint at = 0; at < r->n; at++) {
        guint best = at;
        double casting = r->part_volume + r->answers[at].added;
        for (guint i = at + 1; i < r->n; i++)
            if (r->answers[i].added <= r->answers[at].added + EQUAL * casting &&
                is_better(&r->answers[i], &r->answers[best], cell))
                best = i;
        SearchAnswer take = r->answers[best];
        memmove(&r->answers[at + 1], &r->answers[at], (best - at) * sizeof take);
        r->answers[at] = take;
    }
}
