// SPDX-License-Identifier: GPL-3.0-or-later
// Running flaskwright-cli as a person would, and what every run must keep to.
#pragma once

#include <json-glib/json-glib.h>

#include "check.h"

G_BEGIN_DECLS

typedef struct {
    int status; // exit status; the test fails if it was killed instead
    char *out, *err;
} Run;

void run_clear(Run *run);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(Run, run_clear)

// A fresh folder for each test to work in.
typedef struct {
    char *folder;
} Place;
void place_set_up(Place *place, gconstpointer data);
void place_tear_down(Place *place, gconstpointer data);

// Runs flaskwright-cli in `folder` with the words of `line`, split as a shell would. Fails if it
// does not end within a minute or two, dies, or complains on standard error about itself.
Run run_cli(const char *folder, const char *line);

// The same, and the status must be `status`. With 1 or 2: one line on standard error that begins
// with the program's name; with 0: nothing there.
Run run_expect(const char *folder, const char *line, int status);
// run_expect() with status 1, a message that has `words`, nothing on standard output, and nothing
// new, gone or changed in the folder.
void run_refused(const char *folder, const char *line, const char *words);

// Writes a file into the folder.
void run_write(const char *folder, const char *name, const void *data, gssize length);
// A mesh in mm as binary STL; takes the mesh over.
void run_write_mesh(const char *folder, const char *name, SolidMesh *mesh);
// The plate of most tests, "plate.stl".
void run_write_plate(const char *folder);
// Lets the jobs of a book that name no number of cells be planned in few, for tests that do not
// look at what cells tell: most of a plan's time is heat flow.
void run_coarsen(const char *folder, const char *name);
// The "figures" of what `plan --json` printed; keeps the parser, which owns them.
JsonObject *run_figures(JsonParser *parser, const Run *run);
// Value of a figure; NAN when null.
double run_value(JsonObject *figures, const char *id);
const char *run_state(JsonObject *figures, const char *id); // "" for a plain figure

G_END_DECLS
