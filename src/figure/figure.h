// SPDX-License-Identifier: GPL-3.0-or-later
// One number that can say where it comes from. A FigureSpec is fixed and stands beside the code
// that computes the value; a Figure is one value with its inputs, source, limit and state.
#pragma once

#include "units/quantity.h"

G_BEGIN_DECLS

typedef enum {
    FIGURE_UNKNOWN, // an input is missing
    FIGURE_PLAIN,   // has a value and no limit
    FIGURE_HOLDS,
    FIGURE_CLOSE, // holds, within `near` of the limit; or past one that only advises
    FIGURE_FAILS,
} FigureState;

typedef enum {
    FIGURE_NO_LIMIT,
    FIGURE_AT_MOST,
    FIGURE_AT_LEAST,
} FigureLimitKind;

// Fixed facts about a figure. All strings are static. `formula` is in the grammar of
// figure/formula.h, over the ids of the inputs; NULL when an algorithm made the value, and then
// `method` says in words what was done. `source` is a source id of data/sources.json, or one of the
// words of figure_source_text().
typedef struct {
    const char *id;    // "mould.choke_area"
    const char *label; // N_("Choke area")
    QuantityKind kind;
    const char *formula; // or NULL
    const char *method;  // words; required when formula is NULL
    const char *source;
    FigureLimitKind limit_kind;
    double near;      // share of the limit that counts as close, e.g. 0.1
    gboolean advises; // what is past the limit is close and never fails: waste, or a rule of thumb
} FigureSpec;

// An input as it was when the figure was made.
typedef struct {
    char *id;
    double value; // SI; NAN for a text or unknown input
} FigureInput;

typedef struct {
    const FigureSpec *spec;
    double value; // SI; NAN when unknown or a text
    char *text;   // for QUANTITY_TEXT figures, else NULL
    FigureState state;
    double limit;   // SI; NAN when there is none
    char *limit_id; // the figure or field that gave the limit, or NULL
    double margin;  // how far inside the limit, SI; negative when it fails; NAN without one
    char *source;   // overrides spec->source when not NULL ("measured in this shop: ...")
    char *note;     // a sentence on this value, or NULL ("the next crucible up would hold it")
    char *missing;  // unknown only: id of the input that is missing
    FigureInput *inputs;
    guint n_inputs;
    gboolean given; // a field or table value, not computed; spec is owned by the list
} Figure;

// A list in the order figures were added, with look-up by id, and by id in the lists it "sees"
// (those of earlier stages). Built by one thread; never changed after the stage has ended.
typedef struct FigureList FigureList;

FigureList *figure_list_new(void);
FigureList *figure_list_ref(FigureList *list);
void figure_list_unref(FigureList *list); // NULL is harmless
G_DEFINE_AUTOPTR_CLEANUP_FUNC(FigureList, figure_list_unref)

// Look-ups in `list` also look in `earlier` (a reference is kept).
void figure_list_see(FigureList *list, FigureList *earlier);

guint figure_list_size(const FigureList *list);
const Figure *figure_list_at(const FigureList *list, guint index);
const Figure *figure_list_find(const FigureList *list, const char *id); // NULL if absent
double figure_list_value(const FigureList *list, const char *id);       // NAN if absent or unknown

// A field or table value, so that figures can name it as an input. `text` for kinds without a
// number. A given with value NAN and no text is unknown and makes what uses it unknown.
void figure_give(FigureList *list, const char *id, const char *label, QuantityKind kind,
                 double value, const char *text, const char *source);

// Adds a figure. The ids that follow, ended by NULL, are its inputs; each must be found in the list
// or one it sees (else a programming error, reported with g_critical). If any input is unknown, or
// `value` is not finite, the figure is unknown and says which input is missing. Returns the figure,
// to be finished with the calls below before the stage ends.
Figure *figure_add(FigureList *list, const FigureSpec *spec, double value,
                   ...) G_GNUC_NULL_TERMINATED;
Figure *figure_add_text(FigureList *list, const FigureSpec *spec, const char *text,
                        ...) G_GNUC_NULL_TERMINATED;
// Unknown from the start: `missing` is the id of the field or figure that would make it known.
Figure *figure_add_unknown(FigureList *list, const FigureSpec *spec, const char *missing);

// The limit of a figure whose spec has a limit kind; decides state and margin. limit_id may be
// NULL.
void figure_limit(Figure *figure, double limit, const char *limit_id);
// Whether the value lies past its limit, by more than rounding; so does all that fails.
gboolean figure_is_past(const Figure *figure);
// Replaces the source or the note (copied).
void figure_set_source(Figure *figure, const char *source);
void figure_set_note(Figure *figure, const char *format, ...) G_GNUC_PRINTF(2, 3);

// "holds", "close", "fails", "unknown", "" for a plain figure; static, translated.
const char *figure_state_word(FigureState state);

// The source that applies: figure->source, else the spec's.
const char *figure_source(const Figure *figure);

G_END_DECLS
