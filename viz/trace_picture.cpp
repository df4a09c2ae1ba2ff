#include "viz/trace_picture.h"

#include <fmt/format.h>

#include <algorithm>

#include "kg/model/vocabulary.h"
#include "viz/notation.h"

namespace saggar::viz {

namespace {

std::string goal_in_words(const Snapshot& snapshot, const TraceAnswer& answer) {
    if (answer.to) return snapshot.label_of(*answer.to);
    if (answer.to_kind.empty()) return "other things";
    const Kind* kind = snapshot.vocabulary().find_kind(answer.to_kind);
    return "any " + (kind == nullptr || kind->label.empty() ? answer.to_kind : kind->label);
}

std::string joint_in_words(const JointWeight& joint) {
    if (!joint.normalised) return " The sources contradict each other too much for a joint figure.";
    std::string text = fmt::format(" Taken together they are supported at {}", weight_text(joint.conditioned));
    if (joint.method == Method::sampled) text += fmt::format(" (sampled, half-width {:g})", joint.half_width);
    return text + fmt::format(", by uncontested claims alone at {}.", weight_text(joint.uncontested));
}

}  // namespace

Diagram trace_picture(const Snapshot& snapshot, const TraceAnswer& answer, DraftOptions draft) {
    ChainPicture picture;
    picture.from = answer.from;
    picture.title = fmt::format("From {} to {}", snapshot.label_of(answer.from), goal_in_words(snapshot, answer));
    for (const auto& chain : answer.chains) {
        std::vector<ClaimRef> claims;
        for (const auto& step : chain.steps) claims.push_back(step.step.claim);
        picture.chains.push_back(std::move(claims));
        if (std::find(picture.to.begin(), picture.to.end(), chain.end()) == picture.to.end())
            picture.to.push_back(chain.end());
    }
    const auto count = answer.chains.size();
    if (count == 0) {
        picture.description = "No chain was found.";
    } else {
        picture.description =
            fmt::format("{} chain{}; the best, to {}, has the support {}.", count, count == 1 ? "" : "s",
                        snapshot.label_of(answer.chains.front().end()), weight_text(answer.chains.front().support));
    }
    if (answer.joint) picture.description += joint_in_words(*answer.joint);
    if (answer.more || !answer.complete) picture.description += " There may be further chains that are not shown.";
    return chain(snapshot, picture, std::move(draft));
}

}  // namespace saggar::viz
