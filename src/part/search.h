// SPDX-License-Identifier: GPL-3.0-or-later
// The search for the pull: thousands of directions judged by maps of heights, the best of them
// improved, and the ten best that really differ judged by the drawable envelope itself.
#pragma once

#include "part/direction.h"
#include "part/envelope.h"
#include "units/quantity.h"

G_BEGIN_DECLS

#define SEARCH_MOST 10
#define SEARCH_FILLS 4

// A piece of metal that is there only because the sand could not leave.
typedef struct {
    double volume;   // m3
    double diameter; // m, of the largest ball in it
    double enclosed; // share of its skin that lies against the part
    Vec3 middle;     // part axes, m
    Vec3 widest;     // part axes, m: middle of that ball, about
} SearchFill;

typedef struct {
    Vec3 pull; // unit, part axes, into the cope
    DirectionKind kind;
    double parting;                                                      // along the pull, m
    double added;                                                        // m3 beyond the part
    double allowance_volume, stub_volume, undercut_volume, draft_volume; // m3
    double wall_volume, fillet_volume, closed_volume;                    // m3; 0 in a first ranking
    double depth_cope, depth_drag;                                       // m
    double parting_area;                                                 // m2
    SearchFill fills[SEARCH_FILLS]; // the largest, largest first
    guint n_fills, all_fills;       // how many of them, and how many there are
} SearchAnswer;

typedef struct {
    guint directions; // judged in all
    guint n;
    SearchAnswer answers[SEARCH_MOST]; // best first
    double part_volume;                // m3
    double cell;                       // m, of the last judgement
} SearchResult;

// Told of the first ranking (its numbers good to a percent or two) in the caller's thread.
typedef void (*SearchReport)(const SearchResult *first, gpointer data);

// Of a closed mesh that faces outwards. Least added metal; of those within half a percent of the
// part's volume least depth of draw, then least parting area. A pull and its opposite are one
// unless there is a stub: then the heavier half is the drag. Of a group of like directions one of
// the part's own is taken if it costs no more than a percent of the part beyond the best.
// `report` may be NULL. FALSE with an error when stopped, when the walls are thinner than the
// finest cells, or when the grid is over the limit.
gboolean search_pulls(const SolidMesh *mesh, const EnvelopeOptions *options, SearchResult *result,
                      SearchReport report, gpointer data, Progress *progress, GError **error);

// How much is tried: directions of the even spread, and cells along the longest side.
typedef struct {
    guint spread, cells;
} SearchEffort;

extern const SearchEffort search_effort; // what search_pulls takes

// The same with more or less effort: to see what it buys.
gboolean search_pulls_with(const SolidMesh *mesh, const EnvelopeOptions *options,
                           const SearchEffort *effort, SearchResult *result, SearchReport report,
                           gpointer data, Progress *progress, GError **error);

// One pull, judged as the search judges its ten.
gboolean search_judge(const SolidMesh *mesh, const EnvelopeOptions *options, Vec3 pull,
                      SearchResult *result, Progress *progress, GError **error);

// Why, in whole sentences: what draws and what must be filled. Free with g_free.
char *search_words(const SearchAnswer *answer, double part_volume, const UnitSet *units);

G_END_DECLS
