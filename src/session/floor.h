// SPDX-License-Identifier: GPL-3.0-or-later
// The floor of a casting day: what there is, what is to be moulded, and the rules of the work.
// Numbers in, tasks out; knows no book and makes no figures. All times in s, masses in kg.
//
// Rules, which the tests check apart from the code:
//   - a pair of hands, a furnace, a box, a bench, a cooling place does one thing at a time;
//   - a mould is rammed in four steps by hand: drag, cope, patterns drawn, closed and weighted. Its
//     box is taken from the first step to the end of shake-out, a bench from the first step to the
//     end of drawing, a cooling place from the end of its pour to the end of shake-out;
//   - a load has one metal and stands in one furnace: charged by hand, melts, is skimmed and poured
//     mould by mould, in order of number, without a pause by one pair of hands; before skimming
//     its moulds are shut and there is a cooling place for each;
//   - the first pair of hands sets up, then the furnaces are switched on and warm up once;
//   - sand is taken when ramming begins and is ready again `sand_rest` after shake-out;
//   - handwork but setting up and closing falls between light_from and light_to;
//   - a task with a pin does not begin before it;
//   - closing comes after all handwork and ends within the hours; what is too hot to open by then
//     stays closed.
#pragma once

#include "session/schedule.h"

G_BEGIN_DECLS

#define SESSION_MOST_KINDS 24
#define SESSION_MOST_METALS 8
#define SESSION_MOST_FURNACES 8
#define SESSION_MOST_PEOPLE 16

// More flasks in a session than this are not planned; it bounds the time a book can ask for.
#define SESSION_MOST_FLASKS 600

// Metal is not left molten longer than this for want of a flask or of hands, s: it takes up gas and
// burns power. Common practice, no source. A session of one flask is exempt.
#define SESSION_MOST_HELD 1800.0

// kg: what a crucible gives that may hold a metal but has nothing left of it once loss, heel and
// reserve are taken off.
#define SESSION_LEAST_HOLDS 1e-6

// A furnace with the crucible that stands in it all day.
typedef struct {
    const char *name;                  // for messages; borrowed, may be NULL
    double warm_up;                    // from switching on to the first charge
    double holds[SESSION_MOST_METALS]; // kg that one load gives to moulds; 0: not allowed in it
    double melt[SESSION_MOST_METALS];  // s for each kg given to moulds
} SessionFurnace;

// A kind of mould: all of one job.
typedef struct {
    const char *name; // for messages; borrowed, may be NULL
    int job;          // into the jobs of the result
    int metal, box;   // which metal; which kind of box
    double kg, sand;
    double ram[4]; // drag, cope, draw, shut
    double pour, cool, shake_out;
    double worth; // good castings from one mould, what a session is judged by; above 0
    int wanted;   // moulds at most
} SessionMould;

typedef struct {
    double hours; // from unlocking to locking
    double set_up, closing;
    double charge, skim; // hands and furnace, each load
    double sand_ready;   // kg; INFINITY: never short
    double sand_rest;    // after shake-out; INFINITY: not again on this day
    double light_from, light_to;
    int people, benches, places;
    int n_furnaces, n_metals, n_boxes, n_kinds;
    SessionFurnace furnaces[SESSION_MOST_FURNACES];
    const char *metals[SESSION_MOST_METALS]; // names for messages; borrowed
    int boxes[SESSION_MOST_BOX_KINDS];       // how many of each kind
    SessionMould kinds[SESSION_MOST_KINDS];
    const SessionPin *pins; // borrowed
    guint n_pins;
} SessionFloor;

// Which method shared moulds out among loads.
typedef enum {
    SESSION_PACK_DIRECT,   // one kind, crucibles alike: nothing to choose
    SESSION_PACK_PATTERNS, // by patterns, proved best
    SESSION_PACK_STOPPED,  // by patterns, the search stopped at its number of steps
    SESSION_PACK_FIRST_FIT // too many patterns: first fit, largest first
} SessionPackHow;

// A floor without furnaces, boxes and moulds that nothing limits: infinite sand, light, benches,
// places, one person.
void session_floor_init(SessionFloor *floor);

// FALSE with BASE_ERROR_VALUE, said so that a caster can act on it, when a time is negative or not
// finite, the hours do not hold setting up and closing, there is nobody, no furnace, no bench, no
// place, no box of a kind, too little sand for one mould, a metal no crucible may hold, or a
// crucible too small for one mould: then with what would do.
gboolean session_floor_check(const SessionFloor *floor, GError **error);

// The same without looking at the kinds of mould, of which there may be none.
gboolean session_floor_check_shop(const SessionFloor *floor, GError **error);

// The same for one kind: whether it can be poured at all on this floor.
gboolean session_floor_check_kind(const SessionFloor *floor, int kind, GError **error);

// Moulds of all kinds wanted, at most SESSION_MOST_FLASKS.
int session_floor_wanted(const SessionFloor *floor);

// How many moulds `counts` of each kind are.
int session_count(const SessionFloor *floor, const int *counts);

// Hands for one mould, in all: ramming, pouring. Without shaking out.
double session_mould_work(const SessionMould *mould);
double session_mould_ram(const SessionMould *mould);

// Earliest start a pin allows; 0 without.
double session_floor_pin(const SessionFloor *floor, TaskKind kind, int number);

// One load: its metal and how many moulds of each kind it fills.
typedef struct {
    int metal;
    int count[SESSION_MOST_KINDS];
    int only;    // the one furnace it goes into, from 1, where it is known to fit; 0: any
    double melt; // s it takes there; used only with `only`
} SessionLoad;

int session_load_moulds(const SessionFloor *floor, const SessionLoad *load);
double session_load_kg(const SessionFloor *floor, const SessionLoad *load);
double session_load_melt(const SessionFloor *floor, const SessionLoad *load, int furnace);
// TRUE when the furnace's crucible may hold the load; rounding of a full crucible is let pass.
gboolean session_load_suits(const SessionFloor *floor, const SessionLoad *load, int furnace);
// TRUE when it suits some furnace, and boxes, places and sand suffice for it alone.
gboolean session_load_is_possible(const SessionFloor *floor, const SessionLoad *load);

G_END_DECLS
