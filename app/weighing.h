// The options and the layout of weights, shared by `weigh`, `show` and `draw weigh`.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>

#include "app/text/notes.h"
#include "app/verb.h"
#include "kg/weigh/weigher.h"

namespace saggar::app {

// --what-if SOURCE=CHANCE, --base-rate, --nodes. UsageFault with the next step.
WeighOptions weigh_options(const Call& call, const Snapshot& graph, const Profile& profile);

// The four masses as a bar of `width` signs: + for, - against, x contradictory, . open.
std::string mass_bar(const Masses& masses, std::size_t width);

void write_weight(Call& call, const Snapshot& graph, const Weight& weight, NoteList& notes);
void write_joint(Call& call, const Snapshot& graph, const JointWeight& joint);

nlohmann::json weight_as_json(const Snapshot& graph, const Weight& weight, bool with_private);

}  // namespace saggar::app
