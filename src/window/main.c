// SPDX-License-Identifier: GPL-3.0-or-later
// flaskwright: the planner at the desk.
#include <glib/gi18n.h>
#include <locale.h>

#include "window/app.h"

int
main(int argc, char **argv)
{
    setlocale(LC_ALL, "");
    const char *folder = g_getenv("FLASKWRIGHT_LOCALE_DIR");
    bindtextdomain(GETTEXT_PACKAGE, folder ? folder : FW_LOCALE_DIR);
    bind_textdomain_codeset(GETTEXT_PACKAGE, "UTF-8");
    textdomain(GETTEXT_PACKAGE);
    g_autoptr(FwApp) app = fw_app_new();
    int code = g_application_run(G_APPLICATION(app), argc, argv);
    return code ? code : fw_app_exit_code(app);
}
