// The pictures of a dossier: what is said of the thing, its run, its grid, its descent, each dispute.
#pragma once

#include <vector>

#include "viz/dossier/dossier.h"
#include "viz/draft.h"

namespace saggar::viz {

struct PictureRequest {
    const Snapshot& snapshot;
    Weigher& weigher;
    EntityId thing;
    const std::vector<std::vector<ClaimRef>>& disputes;
    const DossierOptions& options;
    DraftOptions draft;
};

// Pictures without anything in them are left out; at most five disputes are drawn. A picture whose layout fails is
// left out as well: the dossier's words say everything it would.
std::vector<DossierPicture> pictures_for(const PictureRequest& request);

}  // namespace saggar::viz
