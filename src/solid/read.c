// SPDX-License-Identifier: GPL-3.0-or-later
// Finds out what kind of mesh file this is, from its first bytes and then its ending, and hands it
// to the reader of that kind.
#include "solid/read.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gi18n-lib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "solid/read-job.h"
#include "solid/scan.h"

static gboolean
fail_at(const SolidReadJob *job, const char *place, BaseError code, const char *remedy,
        GError **error, const char *format, va_list args)
{
    g_autofree char *what = g_strdup_vprintf(format, args);
    return base_error_set(error, code, job->name, place, what, remedy);
}

gboolean
solid_fail_at_byte(const SolidReadJob *job, guint64 byte, BaseError code, const char *remedy,
                   GError **error, const char *format, ...)
{
    g_autofree char *place = g_strdup_printf(_("byte %" G_GUINT64_FORMAT), byte);
    va_list args;
    va_start(args, format);
    fail_at(job, place, code, remedy, error, format, args);
    va_end(args);
    return FALSE;
}

gboolean
solid_fail_at_line(const SolidReadJob *job, guint64 line, BaseError code, const char *remedy,
                   GError **error, const char *format, ...)
{
    g_autofree char *place = g_strdup_printf(_("line %" G_GUINT64_FORMAT), line);
    va_list args;
    va_start(args, format);
    fail_at(job, place, code, remedy, error, format, args);
    va_end(args);
    return FALSE;
}

gboolean
solid_fail_empty(const SolidReadJob *job, GError **error)
{
    return base_error_set(error, BASE_ERROR_FORMAT, job->name, NULL,
                          _("the file holds no triangles"), _("export the part again"));
}

gboolean
solid_fail_too_many(const SolidReadJob *job, GError **error)
{
    return base_error_setf(
        error, BASE_ERROR_LIMIT, job->name, NULL, _("export it with a coarser mesh"),
        _("the file holds more than %u million triangles"), SOLID_MAX_TRIANGLES / 1000000);
}

double
solid_unit_metres(const char *unit)
{
    static const struct {
        const char *name;
        double metres;
    } units[] = {{"mm", 0.001}, {"cm", 0.01}, {"m", 1.0}, {"in", 0.0254}, {"ft", 0.3048}};
    for (gsize i = 0; unit && i < G_N_ELEMENTS(units); i++)
        if (!strcmp(unit, units[i].name))
            return units[i].metres;
    return 0;
}

const char *
solid_guess_unit(const SolidMesh *mesh_in_mm)
{
    // Parts for small flasks are some 15 mm to 0.5 m long: as bare numbers 15 and up in mm, 0.5 to
    // 15 in inches, below 0.5 in metres. Common practice, no source.
    Vec3 low = vec3(INFINITY, INFINITY, INFINITY), high = vec3_scale(low, -1);
    for (guint32 i = 0; i < mesh_in_mm->n_vertices; i++) {
        Vec3 v = mesh_in_mm->vertices[i];
        low = vec3(fmin(low.x, v.x), fmin(low.y, v.y), fmin(low.z, v.z));
        high = vec3(fmax(high.x, v.x), fmax(high.y, v.y), fmax(high.z, v.z));
    }
    double longest = 1000 * fmax(high.x - low.x, fmax(high.y - low.y, high.z - low.z));
    if (!(longest > 0) || longest >= 15)
        return "mm";
    return longest >= 0.5 ? "in" : "m";
}

typedef SolidMesh *(*Reader)(const SolidReadJob *job, GError **error);

static gboolean
starts_with(const SolidReadJob *job, const char *text)
{
    gsize n = strlen(text);
    return job->length >= n && memcmp(job->data, text, n) == 0;
}

static gboolean
looks_like_text(const SolidReadJob *job)
{
    for (gsize i = 0; i < job->length && i < 1024; i++)
        if (job->data[i] < ' ' && !strchr("\t\n\v\f\r", job->data[i] ? job->data[i] : 'x'))
            return FALSE;
    return TRUE;
}

static gboolean
has_true_stl_count(const SolidReadJob *job)
{
    guint32 count;
    if (job->length < 84)
        return FALSE;
    memcpy(&count, job->data + 80, sizeof count);
    return job->length == 84 + 50 * (guint64)GUINT32_FROM_LE(count);
}

// A text whose first line that is not a comment begins with a word of OBJ.
static gboolean
looks_like_obj(const SolidReadJob *job)
{
    static const char *const words[] = {"v", "vn", "vt", "f", "g", "o", "s", "mtllib", "usemtl"};
    SolidScan scan;
    SolidWord word;
    solid_scan_init(&scan, job->data, MIN(job->length, 65536));
    while (solid_scan_word(&scan, &word) && word.text[0] == '#')
        solid_scan_skip_line(&scan);
    for (gsize i = 0; i < G_N_ELEMENTS(words); i++)
        if (solid_word_is(word, words[i]))
            return TRUE;
    return FALSE;
}

static gboolean
starts_with_solid(const SolidReadJob *job)
{
    SolidScan scan;
    SolidWord word;
    solid_scan_init(&scan, job->data, MIN(job->length, 1024));
    return solid_scan_word(&scan, &word) && solid_word_is(word, "solid");
}

static Reader
find_by_content(const SolidReadJob *job)
{
    if (starts_with(job, "PK\003\004") || starts_with(job, "PK\005\006"))
        return solid_read_3mf;
    if (starts_with(job, "ply\n") || starts_with(job, "ply\r") || starts_with(job, "ply "))
        return solid_read_ply;
    if (has_true_stl_count(job)) // also when the header begins with "solid"
        return solid_read_stl_binary;
    if (!looks_like_text(job))
        return NULL;
    if (starts_with_solid(job))
        return solid_read_stl_text;
    return looks_like_obj(job) ? solid_read_obj : NULL;
}

static Reader
find_by_ending(const SolidReadJob *job)
{
    static const struct {
        const char *ending;
        Reader reader;
    } kinds[] = {
        {".stl", solid_read_stl_binary}, {".obj", solid_read_obj}, {".3mf", solid_read_3mf}};
    gsize length = strlen(job->name);
    for (gsize i = 0; i < G_N_ELEMENTS(kinds); i++)
        if (length >= 4 && !g_ascii_strcasecmp(job->name + length - 4, kinds[i].ending))
            return kinds[i].reader;
    // An STL that begins as ASCII ones do, but is not text, and whose count is wrong.
    return starts_with(job, "solid") ? solid_read_stl_binary : NULL;
}

static SolidMesh *
read_job(const SolidReadJob *job, GError **error)
{
    if (job->length == 0) {
        base_error_set(error, BASE_ERROR_FORMAT, job->name, NULL, _("the file is empty"),
                       _("export it again"));
        return NULL;
    }
    if (starts_with(job, "\xFF\xFE") || starts_with(job, "\xFE\xFF")) {
        solid_fail_at_byte(job, 0, BASE_ERROR_FORMAT, _("save it as UTF-8 or binary"), error,
                           _("the file is UTF-16 text"));
        return NULL;
    }
    Reader reader = find_by_content(job);
    if (!reader)
        reader = find_by_ending(job);
    if (reader)
        return reader(job, error);
    solid_fail_at_byte(job, 0, BASE_ERROR_FORMAT, _("export the part as one of these"), error,
                       _("the file is not an STL, OBJ, PLY or 3MF"));
    return NULL;
}

SolidMesh *
solid_read_bytes(const guchar *data, gsize length, const char *name, const char *unit,
                 Progress *progress, GError **error)
{
    g_return_val_if_fail(data != NULL || length == 0, NULL);
    g_return_val_if_fail(name != NULL, NULL);
    g_autofree char *shown = solid_text_printable(name);
    double scale = solid_unit_metres(unit ? unit : "mm");
    if (scale == 0) {
        base_error_setf(error, BASE_ERROR_VALUE, shown, NULL, _("use mm, cm, m, in or ft"),
                        _("\"%s\" is not a unit of length"), unit);
        return NULL;
    }
    SolidReadJob job = {data, length, shown, scale, progress};
    return read_job(&job, error);
}

static gboolean
fail_file(const char *path, GError **error, const char *what)
{
    g_autofree char *shown = solid_text_printable(path);
    return base_error_set(error, BASE_ERROR_FILE, shown, NULL, what, _("choose another file"));
}

// The whole of a regular file. A pipe or a device could block, or never end.
static guchar *
load_open(int fd, const char *path, gsize *length, Progress *progress, GError **error)
{
    struct stat state;
    if (fstat(fd, &state) != 0 || !S_ISREG(state.st_mode)) {
        fail_file(path, error, _("is not an ordinary file"));
        return NULL;
    }
    if ((guint64)state.st_size > SOLID_MAX_BYTES) {
        g_autofree char *shown = solid_text_printable(path);
        base_error_setf(error, BASE_ERROR_LIMIT, shown, NULL, _("export it with a coarser mesh"),
                        _("the file is larger than %u MB"), (guint)(SOLID_MAX_BYTES >> 20));
        return NULL;
    }
    gsize size = (gsize)state.st_size, got = 0;
    g_autofree guchar *data = g_try_malloc(size + 1);
    if (!data) {
        fail_file(path, error, _("does not fit into memory"));
        return NULL;
    }
    while (got < size) {
        if (!progress_check(progress, error))
            return NULL;
        gssize n = read(fd, data + got, MIN(size - got, 16u << 20));
        if (n < 0 && errno == EINTR)
            continue;
        if (n < 0) {
            fail_file(path, error, g_strerror(errno));
            return NULL;
        }
        if (n == 0)
            break; // it became shorter; the reader will say where it ends
        got += (gsize)n;
    }
    *length = got;
    return g_steal_pointer(&data);
}

SolidMesh *
solid_read(const char *path, const char *unit, Progress *progress, GError **error)
{
    g_return_val_if_fail(path != NULL, NULL);
    int fd = open(path, O_RDONLY | O_CLOEXEC | O_NONBLOCK);
    if (fd < 0) {
        fail_file(path, error, g_strerror(errno));
        return NULL;
    }
    gsize length = 0;
    g_autofree guchar *data = load_open(fd, path, &length, progress, error);
    close(fd);
    return data ? solid_read_bytes(data, length, path, unit, progress, error) : NULL;
}
