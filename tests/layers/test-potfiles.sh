#!/bin/sh
# Every source file with words a person reads is listed for translation, and every file listed
# exists.
set -u
cd "$FW_SOURCE_DIR" || exit 1
bad=0
for file in $(grep -rlE '\b(N_|_|ngettext)\("' src --include='*.c') ui/*.ui; do
    case $file in *.ui) grep -q 'translatable="yes"' "$file" || continue ;; esac
    grep -qx "$file" po/POTFILES.in || { echo "not in po/POTFILES.in: $file"; bad=1; }
done
for file in $(grep -v '^#' po/POTFILES.in); do
    [ -f "$file" ] || { echo "in po/POTFILES.in, but not there: $file"; bad=1; }
done
exit $bad
