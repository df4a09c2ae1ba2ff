#include "viz/chain.h"

namespace saggar::viz {

Diagram chain(const Snapshot& snapshot, const ChainPicture& picture, DraftOptions options) {
    Draft draft(snapshot, std::move(options), "chain");
    draft.diagram().nodes[draft.entity(picture.from)].focus = true;
    for (const auto& claims : picture.chains) {
        for (const auto ref : claims) {
            if (const auto claim = snapshot.claim(ref)) draft.claim_line(*claim);
        }
    }
    for (const auto end : picture.to) {
        if (draft.has(end)) draft.diagram().nodes[draft.entity(end)].focus = true;
    }
    return draft.finish(picture.title, picture.description);
}

}  // namespace saggar::viz
