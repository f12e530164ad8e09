// SPDX-License-Identifier: GPL-3.0-or-later
// Books with one job, changed books, and plans compared figure by figure, for the tests of plan/,
// report/ and cli/.
#pragma once

#include "check.h"

#include "plan/plan.h"

G_BEGIN_DECLS

// The tables and a fresh folder, for each test.
typedef struct {
    Tables *tables;
    char *folder;
} Bare;
void bare_set_up(Bare *bare, gconstpointer data);
void bare_tear_down(Bare *bare, gconstpointer data);

// Writes `mesh` into `folder` and returns its path. Takes the mesh over. Free.
char *make_mesh_file(const char *folder, const char *name, SolidMesh *mesh);
// A plate of 61.7 by 43.1 by 12.3 mm with a blind hole, drawn from the top.
SolidMesh *make_plate(void);
// A box without its last triangle.
SolidMesh *make_open_box(void);

// A ready book with one job "part" of 37 pieces, computed coarsely so that a plan is quick. `mesh`
// NULL: the job names none.
Book *make_book(const char *mesh, const Tables *tables);
// The book with one field changed; fails the test if it cannot be.
Book *make_changed(const Book *book, const char *path, const char *text, const Tables *tables);

// The book with one more entry of a list of the shop, `place`, with one member besides its id.
Book *make_with_entry(const Book *book, const char *place, const char *id, const char *member,
                      const char *value);

// The book with one more job "other" of 23 pieces, of the same metal, pulled straight up.
Book *make_with_other(const Book *book, const char *mesh, const Tables *tables);
// The book with one field of the job "other" changed.
Book *make_other_changed(const Book *book, const char *path, const char *text,
                         const Tables *tables);

// plan_make() that must not fail.
Plan *make_plan(const Book *book, const char *job, const Tables *tables, Cache *cache);
// Everything about every figure of a plan, one a line, numbers bit for bit. Free.
char *make_dump(const Plan *plan);
// Fails at the first line that differs, naming `what`.
void check_same_dump(const char *a, const char *b, const char *what);

// What check_plan_figures() looked at.
typedef struct {
    guint figures, formulas;
} PlanCount;
// Every formula gives the value of its figure from the recorded inputs and names exactly those;
// every input exists; every source is one that can be looked up.
void check_plan_figures(const Plan *plan, PlanCount *count);

G_END_DECLS
