// SPDX-License-Identifier: GPL-3.0-or-later
// What the leak checker is not to report: fontconfig keeps its tables for the life of the program.
// The checker looks for this function by name; without it nobody calls it.
const char *__lsan_default_suppressions(void);

const char *
__lsan_default_suppressions(void)
{
    return "leak:libfontconfig.so\n";
}
