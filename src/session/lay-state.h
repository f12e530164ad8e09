// SPDX-License-Identifier: GPL-3.0-or-later
// The state of a floor while a session is laid out. Private to lay*.c.
#pragma once

#include "session/lay.h"

G_BEGIN_DECLS

#define LAY_STEPS 4

typedef struct {
    int kind, load;
    int box, bench, place; // -1: none; box within its kind
    int step;              // steps of ramming begun
    double until;          // end of the step begun last
    double cooled;         // when it may be shaken out; INFINITY before it is poured
    double gone;           // end of shake-out; INFINITY before
    int next;              // first mould behind it that needs the same kind of box, or -1
} LayMould;

typedef struct {
    guint suits;  // furnaces that may hold it, a bit each
    int furnace;  // -1: not charged
    int first, n; // its moulds
    int poured;   // how many of them
    gboolean skimmed;
    int who;       // skimmed it; -1: nobody yet, or not known
    double molten; // INFINITY before it is charged
    double ready;  // when its next pour may begin, once skimmed
} LayLoad;

typedef struct {
    int load;     // charged and not all poured; -1: none
    double ready; // when it may be charged; INFINITY before it is switched on
    gboolean used;
} LayFurnace;

typedef struct {
    const SessionFloor *floor;
    const SessionWay *way;
    const SessionLoad *what;
    const gboolean *shake; // as in SessionStart
    int n_moulds, n_loads;
    LayMould *moulds;
    LayLoad *loads;
    LayFurnace furnaces[SESSION_MOST_FURNACES];
    double hands[SESSION_MOST_PEOPLE];       // when each pair is free
    double *boxes[SESSION_MOST_BOX_KINDS];   // when each is empty; INFINITY while taken
    int box_base[SESSION_MOST_BOX_KINDS];    // number of the first of the kind among all
    int first_mould[SESSION_MOST_BOX_KINDS]; // first not begun of each kind of box, or -1
    int n_benches, n_places;
    double *benches, *places; // as boxes
    GArray *open;             // int: moulds begun and not yet at their last step
    GArray *cooling;          // int: moulds poured and not shaken out
    int not_begun;            // moulds
    int first_load;           // first not charged
    int to_pour;              // loads
    double now;
    SessionPlan *plan;
} Lay;

// These book the start and the end given, whatever the rules: the past is what it was.
void lay_begin_set_up(Lay *lay, double start, double end);
void lay_begin_warm_up(Lay *lay, int furnace, double start, double end);
void lay_begin_step(Lay *lay, int mould, int box, int step, int who, double start, double end);
void lay_begin_charge(Lay *lay, int furnace, int load, int who, double start, double end,
                      double molten);
void lay_begin_skim(Lay *lay, int load, int who, double start, double end);
void lay_begin_pour(Lay *lay, int mould, int who, double start, double end);
void lay_begin_close(Lay *lay, int who, double start, double end);
void lay_begin_shake_out(Lay *lay, int mould, int who, double start, double end);

// Whether handwork may fall there.
gboolean lay_is_light(const Lay *lay, double start, double end);
// TRUE if hands that begin `duration` of work now would be missed at a furnace.
gboolean lay_is_awaited(const Lay *lay, int who, double duration);
// When the pins of a load and of its moulds let it be poured; 0 without.
double lay_find_pour_pin(const Lay *lay, int load);
// When the furnace's next load should be charged; INFINITY while time alone will not tell.
double lay_find_charge_time(const Lay *lay, int furnace, gboolean strict);

// Each gives these hands work of one sort and says whether there was any.
gboolean lay_try_pour(Lay *lay, int who);
gboolean lay_try_charge(Lay *lay, int who);
gboolean lay_try_ram(Lay *lay, int who);
gboolean lay_try_shake_out(Lay *lay, int who);

// When sand taken by a mould is ready again and how much is ready now.
double lay_sand_back(const Lay *lay, const LayMould *mould);
double lay_sand_ready(const Lay *lay);
// When there is sand for all moulds before the `until`th not begun, as far as is known now;
// INFINITY while it is not.
double lay_find_sand(const Lay *lay, int until);

G_END_DECLS
