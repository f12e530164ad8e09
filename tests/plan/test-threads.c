// SPDX-License-Identifier: GPL-3.0-or-later
// The same bytes in give the same figures out, whatever the number of threads.
#include "make.h"

#ifdef _OPENMP
#include <omp.h>
#endif

static char *
dump_with(int threads, const Book *book, const Tables *tables)
{
#ifdef _OPENMP
    omp_set_num_threads(threads);
#endif
    g_autoptr(Plan) plan = make_plan(book, "part", tables, NULL);
    return make_dump(plan);
}

static void
test_threads(void)
{
#ifndef _OPENMP
    g_test_skip("built without threads in the loops");
#endif
    g_autoptr(Tables) tables = tables_load(NULL);
    g_autofree char *folder = check_folder();
    g_autoptr(SolidMesh)
                  straight = check_mesh_blind_plate(0.0617, 0.0431, 0.0233, 0.0113, 0.0157, 24);
    g_autofree char *mesh = make_mesh_file(folder, "cup.stl", check_mesh_turned(straight));
    g_autoptr(Book) coarse = make_book(mesh, tables);
    g_autoptr(Book) book = make_changed(coarse, "job.cells", "41", tables);
    g_autofree char *one = dump_with(1, book, tables);
    for (int threads = 2; threads <= 5; threads += 3) {
        g_autofree char *more = dump_with(threads, book, tables);
        g_autofree char *what = g_strdup_printf("%d threads", threads);
        check_same_dump(one, more, what);
    }
    check_folder_remove(folder);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/plan/threads", test_threads);
    return g_test_run();
}
