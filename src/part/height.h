// SPDX-License-Identifier: GPL-3.0-or-later
// What a pull costs, from two maps of heights: how high and how low the metal reaches over each
// place seen along the pull. A body that draws has no more to it than these two.
//
//   top(x)   highest metal over x             T(x) = max over x' of top(x') - |x - x'| / tan(draft)
//   above a parting at h the drawable body is h < z < T(x), below it B(x) < z < h
#pragma once

#include "part/envelope.h"

G_BEGIN_DECLS

// Room to work in, for one thread at a time.
typedef struct HeightWork HeightWork;

HeightWork *height_work_new(void);
void height_work_free(HeightWork *work); // NULL is harmless
G_DEFINE_AUTOPTR_CLEANUP_FUNC(HeightWork, height_work_free)

typedef struct {
    Vec3 pull;                                   // unit, part axes
    double parting;                              // along the pull from the origin, m
    double rough;                                // m3, part and allowance, by the field
    double drawn, drafted;                       // m3, the drawable body without and with draft
    double depth_cope, depth_drag, parting_area; // m, m, m2
} HeightCost;

// `field` is the signed distance of the part in its own axes, with margin and band for the
// allowance; `rough` the volume (m3) of field < allowance; `pixel` the step of the maps, m. The
// parting is the height that needs least metal (the cost is convex in it), among equals the one
// nearest the middle. Good to a percent or two of the part's volume: meant for ranking thousands.
HeightCost height_judge(const SolidGrid *field, const EnvelopeOptions *options, double rough,
                        Vec3 pull, double pixel, HeightWork *work);

G_END_DECLS
