// SPDX-License-Identifier: GPL-3.0-or-later
// One gap: from a placed body to another, to a plain shape, to the flask's walls.
#pragma once

#include "mould/body.h"
#include "mould/prop.h"
#include "mould/space.h"

G_BEGIN_DECLS

// Where a body stands: turned about z, then moved along x and y.
typedef struct {
    double x, y, turn; // m, rad
    double cos, sin;
} MouldPose;

MouldPose mould_pose(double x, double y, double turn);
Vec3 mould_pose_out(const MouldPose *pose, Vec3 p);  // body to flask axes
Vec3 mould_pose_back(const MouldPose *pose, Vec3 p); // flask to body axes

// Least distance of two skins, m, with its ends; 0 when they meet. The tree of one is searched in
// the field of the other for the nearest point, then both ends go to and fro between the true skins
// until they stay.
double mould_gap_bodies(const MouldBody *a, const MouldPose *at_a, const MouldBody *b,
                        const MouldPose *at_b, Vec3 *on_a, Vec3 *on_b);

double mould_gap_prop(const MouldBody *a, const MouldPose *at_a, const MouldProp *prop, Vec3 *on_a,
                      Vec3 *on_prop);

// Least distance of the body from the flask's walls, negative outside, with where. Exact: it is
// least at a vertex.
double mould_gap_walls(const MouldBody *a, const MouldPose *at_a, const MouldWalls *walls,
                       Vec3 *on_a, Vec3 *on_wall);

// The box along the flask's axes of a placed body, m.
void mould_gap_box(const MouldBody *a, const MouldPose *at_a, Vec3 *low, Vec3 *high);

G_END_DECLS
