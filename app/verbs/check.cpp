#include "kg/store/check.h"

#include <fmt/format.h>

#include "app/json_out.h"
#include "app/session.h"
#include "app/verbs/verbs.h"

namespace saggar::app {
namespace {

int run_check(Call& call) {
    const Store store = Store::open(call.graph, Access::read);
    const CheckReport report = check(store, call.with_private);
    const int status = report.damage.empty() && report.missing_pictures.empty() ? fine : trouble;
    if (call.json) {
        print(*call.out, {{"whole", report.damage.empty()},
                          {"damage", report.damage},
                          {"entities", report.entities},
                          {"sources", report.sources},
                          {"claims", report.claims},
                          {"evidence", report.evidence},
                          {"lists", report.lists},
                          {"arguments", report.arguments},
                          {"rulings", report.rulings},
                          {"entries", report.entries},
                          {"pictures", report.pictures},
                          {"missing_pictures", report.missing_pictures},
                          {"undescribed", report.undescribed},
                          {"undescribed_count", report.undescribed_count},
                          {"claims_without_evidence", report.claims_without_evidence}});
        return status;
    }
    *call.out << wrap(fmt::format("{} things, {} sources, {} claims, {} readings, {} lists, {} arguments, {} rulings, {} "
                                  "entries",
                                  report.entities, report.sources, report.claims, report.evidence, report.lists,
                                  report.arguments, report.rulings, report.entries),
                      call.layout.width)
              << '\n';
    if (report.undescribed_count) {
        *call.out << report.undescribed_count << " things are mentioned but not described:\n";
        for (const std::string& key : report.undescribed) *call.out << "    " << key << '\n';
    }
    if (report.claims_without_evidence)
        *call.out << report.claims_without_evidence << (report.claims_without_evidence == 1 ? " claim has" : " claims have") << " no evidence and no argument\n";
    for (const std::string& key : report.missing_pictures) *call.out << "no picture: " << key << '\n';
    if (!report.missing_pictures.empty())
        *call.out << "    next: load the folder of photographs, or the bag, that holds them\n";
    if (report.damage.empty()) {
        if (report.missing_pictures.empty()) *call.out << "the graph is whole\n";
        return status;
    }
    for (const std::string& damage : report.damage) *call.out << "damage: " << damage << '\n';
    *call.out << "    next: keep a copy of the folder, then put the last backup back with `saggar restore`\n";
    return trouble;
}

}  // namespace

Verb check_verb() {
    return {"check", "see whether the graph is whole", {}, {}, run_check, "Exit status 1: there is damage, or a picture is missing."};
}

}  // namespace saggar::app
