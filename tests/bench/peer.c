// SPDX-License-Identifier: GPL-3.0-or-later
// Asks peers.py, line by line, so that runs of both sides alternate.
#include "peer.h"

#include <gio/gio.h>
#include <string.h>

#include "check.h"

struct Peer {
    GSubprocess *process;
    GDataInputStream *answers;
    char *folder;
};

Peer *
peer_start(void)
{
    g_autofree char *script = g_build_filename(g_getenv("FW_SOURCE_DIR"), "tests", "bench",
                                               "peers.py", NULL);
    // The system's interpreter: packages of a distribution are there.
    const char *command[] = {"/usr/bin/python3", script, NULL};
    g_autoptr(GSubprocess) process = g_subprocess_newv(command,
                                                       G_SUBPROCESS_FLAGS_STDIN_PIPE |
                                                           G_SUBPROCESS_FLAGS_STDOUT_PIPE |
                                                           G_SUBPROCESS_FLAGS_STDERR_SILENCE,
                                                       NULL);
    g_autofree char *line = NULL;
    g_autoptr(GDataInputStream) answers = NULL;
    if (process) {
        answers = g_data_input_stream_new(g_subprocess_get_stdout_pipe(process));
        line = g_data_input_stream_read_line(answers, NULL, NULL, NULL);
    }
    if (!line) {
        g_print("Peers: missing (python3-vtk9 and python3-scipy); our own times only\n");
        return NULL;
    }
    g_print("Peers: %s\n", line);
    Peer *peer = g_new0(Peer, 1);
    peer->process = g_steal_pointer(&process);
    peer->answers = g_steal_pointer(&answers);
    peer->folder = check_folder();
    return peer;
}

void
peer_stop(Peer *peer)
{
    if (!peer)
        return;
    g_output_stream_close(g_subprocess_get_stdin_pipe(peer->process), NULL, NULL);
    g_subprocess_wait(peer->process, NULL, NULL);
    g_object_unref(peer->answers);
    g_object_unref(peer->process);
    check_folder_remove(peer->folder);
    g_free(peer->folder);
    g_free(peer);
}

char *
peer_path(const Peer *peer, const char *name)
{
    return g_build_filename(peer->folder, name, NULL);
}

gboolean
peer_run(Peer *peer, const char *request, Timing *timing)
{
    GOutputStream *out = g_subprocess_get_stdin_pipe(peer->process);
    g_autofree char *line = g_strconcat(request, "\n", NULL);
    if (!g_output_stream_write_all(out, line, strlen(line), NULL, NULL, NULL) ||
        !g_output_stream_flush(out, NULL, NULL))
        return FALSE;
    g_autofree char *answer = g_data_input_stream_read_line(peer->answers, NULL, NULL, NULL);
    if (!answer || !g_ascii_isdigit(answer[0]))
        return FALSE;
    char *next;
    double wall = g_ascii_strtod(answer, &next);
    timing_add_seconds(timing, wall, g_ascii_strtod(next, NULL));
    return TRUE;
}

gpointer
peer_read(const char *path, gsize size)
{
    char *data;
    gsize length;
    if (!g_file_get_contents(path, &data, &length, NULL))
        return NULL;
    if (length == size)
        return data;
    g_free(data);
    return NULL;
}
