#include <nlohmann/json.hpp>

#include "app/documents.h"
#include "app/json_out.h"
#include "app/session.h"
#include "app/verbs/verbs.h"
#include "kg/model/fault.h"
#include "kg/weigh/profile.h"

namespace saggar::app {
namespace {

int show_profile(Call& call) {
    const Session session = open_to_read(call);
    const std::string& stored = session.snapshot->profile_text();
    const std::string& text = stored.empty() ? Profile::standard().document() : stored;
    if (call.json) {
        print(*call.out, nlohmann::json::parse(text));
    } else {
        *call.out << text << (text.empty() || text.back() == '\n' ? "" : "\n");
    }
    return fine;
}

int load_profile(Call& call, const std::string& path) {
    const std::string text = document_text(path);
    if (!profile_is_sound(call, text, path)) return trouble;
    Store store = open_to_write(call);
    if (store.snapshot()->profile_text() == text) {
        *call.out << "the graph has this profile already\n";
        return fine;
    }
    const Entry entry = store.set_profile(text, change_head(call, store, "profile", path));
    Problems problems;
    *call.out << "entry " << entry.number << ": weighed by profile " << Profile::parse(text, problems)->title() << " from now on\n";
    return fine;
}

int run_profile(Call& call) {
    const std::string action = call.operand("ACTION");
    const std::string file = call.operand("FILE");
    if (action == "show" && file.empty()) return show_profile(call);
    if (action == "load" && !file.empty()) return load_profile(call, file);
    throw UsageFault("the profile can be shown or loaded", "say `saggar profile show` or `saggar profile load FILE`");
}

}  // namespace

Verb profile_verb() {
    return {"profile",
            "show the weighing profile, or load another one",
            {{"ACTION", "show or load"}, {"FILE", "of load: the document, as JSON", false}},
            {},
            run_profile,
            "Its numbers are conventions: grades and their caps, hedge words, dependence in families, words for likelihood.\n"
            "To change one: saggar profile show > mine.json, edit it and its version, saggar profile load mine.json.\n"
            "Earlier answers can be asked again with --as-of."};
}

}  // namespace saggar::app
