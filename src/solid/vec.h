// SPDX-License-Identifier: GPL-3.0-or-later
// Three doubles and what one does with them.
#pragma once

#include <math.h>

typedef struct {
    double x, y, z;
} Vec3;

static inline Vec3
vec3(double x, double y, double z)
{
    return (Vec3){x, y, z};
}
static inline Vec3
vec3_add(Vec3 a, Vec3 b)
{
    return vec3(a.x + b.x, a.y + b.y, a.z + b.z);
}
static inline Vec3
vec3_sub(Vec3 a, Vec3 b)
{
    return vec3(a.x - b.x, a.y - b.y, a.z - b.z);
}
static inline Vec3
vec3_scale(Vec3 a, double s)
{
    return vec3(a.x * s, a.y * s, a.z * s);
}
static inline double
vec3_dot(Vec3 a, Vec3 b)
{
    return a.x * b.x + a.y * b.y + a.z * b.z;
}
static inline Vec3
vec3_cross(Vec3 a, Vec3 b)
{
    return vec3(a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x);
}
static inline double
vec3_length(Vec3 a)
{
    return sqrt(vec3_dot(a, a));
}
static inline Vec3
vec3_unit(Vec3 a)
{
    double n = vec3_length(a);
    return n > 0 ? vec3_scale(a, 1 / n) : a;
}
