// SPDX-License-Identifier: GPL-3.0-or-later
// Small pictures of a part as it lies in the mould for a pull: shaded by what draws, the parting
// drawn, cope side up. Made one after another in a thread and kept, so that a list made anew has
// its pictures at once.
#pragma once

#include <gtk/gtk.h>

#include "part/search.h"
#include "sketch/theme.h"
#include "solid/mesh.h"

G_BEGIN_DECLS

#define PULL_PICTURE_WIDTH 92 // units of the screen
#define PULL_PICTURE_HEIGHT 76

#define FW_TYPE_PULL_PICTURES (fw_pull_pictures_get_type())
G_DECLARE_FINAL_TYPE(FwPullPictures, fw_pull_pictures, FW, PULL_PICTURES, GObject)

FwPullPictures *fw_pull_pictures_new(void);
// Fills the picture now or when it is made. `part` tells one mesh and its options from another;
// `draft` is the wanted one, rad; the answer's pull and parting are in the mesh's axes.
void fw_pull_pictures_show(FwPullPictures *pictures, GtkPicture *picture, const char *part,
                           const SolidMesh *mesh, double draft, const SearchAnswer *answer,
                           ThemeKind theme);
void fw_pull_pictures_stop(FwPullPictures *pictures); // makes no more until asked again
gboolean fw_pull_pictures_is_settled(FwPullPictures *pictures);

G_END_DECLS
