// A museum's tables that nobody here wrote, read by examples/museum: counts and answers must equal those computed apart
// (answers.json beside the data). The data stays outside the project: in the folder of $SAGGAR_TRIALS, or shared/trials above
// the source. Without it the test says so and passes.
#include <catch2/catch.hpp>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <map>
#include <nlohmann/json.hpp>
#include <set>
#include <sstream>

#include "tests/importers/collect.h"

using namespace saggar;
using namespace saggar::test;
namespace fs = std::filesystem;

namespace {

fs::path trials() {
    if (const char* set = std::getenv("SAGGAR_TRIALS")) return set;
    const fs::path source(SAGGAR_SOURCE_DIR);
    for (const fs::path& above : {source / "../shared/trials", source / "../../shared/trials"}) {
        if (fs::is_directory(above)) return above;
    }
    return {};
}

std::string file_text(const fs::path& path) {
    std::ifstream stream(path, std::ios::binary);
    std::ostringstream text;
    text << stream.rdbuf();
    return text.str();
}

using Links = std::map<std::string, std::map<std::string, std::set<std::string>>>;  // relation -> piece -> parties

std::string number_of(const std::string& piece) { return piece.substr(std::string("piece:ch-").size()); }

}  // namespace

TEST_CASE("the museum's tables", "[museum]") {
    const fs::path data = trials() / "museum";
    if (!fs::is_directory(data)) {
        WARN("no trial data: set SAGGAR_TRIALS to the folder that holds museum/");
        return;
    }
    const fs::path maps = fs::path(SAGGAR_SOURCE_DIR) / "examples/museum";
    Problems problems;
    const auto vocabulary = Vocabulary::parse(file_text(maps / "vocabulary.json"), problems);
    REQUIRE(vocabulary);
    Collected read;
    CheckedSink checked(read, *vocabulary, Profile::standard(), problems,
                        [&](const ContentId& id) { return read.has_claim(id); });
    const ReadContext context{*vocabulary, ""};
    for (const char* name : {"persons.csv", "objects.csv", "participants.csv"}) {
        ReadOptions options;
        options.map = maps / (std::string(name) + "-metadata.json");
        read_file(data / name, options, context, checked, problems);
    }
    INFO(all_problems(problems));
    CHECK(problems.errors() == 0);
    CHECK(problems.warnings() == 0);

    const auto answers = nlohmann::json::parse(file_text(data / "answers.json"));
    std::set<std::string> pieces;
    std::map<std::string, std::string> names;
    for (const Entity& entity : read.all<Entity>()) {
        if (entity.key.rfind("piece:", 0) == 0) pieces.insert(entity.key);
        names[entity.key] = entity.label.text;
    }
    CHECK(pieces.size() == answers["objects"]);
    std::map<ContentId, Claim> claims;
    for (const Claim& claim : read.all<Claim>()) claims[id_of(claim)] = claim;
    std::size_t roles = 0;
    Links links;
    for (const Evidence& evidence : read.all<Evidence>()) {
        const Claim& claim = claims.at(evidence.claim);
        if (claim.object.text.rfind("party:", 0) != 0) continue;
        ++roles;
        CHECK(evidence.source == "source:ch-" + number_of(claim.subject));  // each cited to its own record
        links[claim.relation][claim.subject].insert(claim.object.text);
    }
    CHECK(roles == answers["participant_rows"]);

    const auto with_several = [&](const char* relation) {
        std::set<std::string> ids;
        for (const auto& [piece, parties] : links[relation]) {
            if (parties.size() > 1) ids.insert(number_of(piece));
        }
        return ids;
    };
    for (const auto& [relation, key] : {std::pair("designed-by", "objects_with_two_or_more_designers"),
                                        std::pair("manufactured-by", "objects_with_two_or_more_manufacturers")}) {
        CHECK(with_several(relation) == answers[key]["ids"].get<std::set<std::string>>());
    }
    const auto by_objects = [&](const std::vector<std::string>& relations) {
        std::map<std::string, std::set<std::string>> pieces_of;
        for (const std::string& relation : relations) {
            for (const auto& [piece, parties] : links[relation]) {
                for (const std::string& party : parties) pieces_of[names.at(party)].insert(piece);
            }
        }
        return pieces_of;
    };
    for (const auto& [key, relations] :
         {std::pair("manufacturers_by_objects", std::vector<std::string>{"manufactured-by"}),
          std::pair("retailer_distributor_vendor_by_objects",
                    std::vector<std::string>{"sold-by", "distributed-by", "bought-from"})}) {
        auto counted = by_objects(relations);
        for (const auto& row : answers[key]) CHECK(counted[row[0].get<std::string>()].size() == row[1]);
    }

    // Parties and pieces as one graph: connected parts, and the shortest way between two makers.
    std::map<std::string, std::set<std::string>> beside;
    for (const auto& [relation, by_piece] : links) {
        for (const auto& [piece, parties] : by_piece) {
            for (const std::string& party : parties) {
                beside[piece].insert(party);
                beside[party].insert(piece);
            }
        }
    }
    const auto distances_from = [&](const std::string& start) {
        std::map<std::string, int> distance{{start, 0}};
        std::vector<std::string> queue{start};
        for (std::size_t i = 0; i < queue.size(); ++i) {
            for (const std::string& next : beside[queue[i]]) {
                if (distance.emplace(next, distance[queue[i]] + 1).second) queue.push_back(next);
            }
        }
        return distance;
    };
    std::set<std::string> seen;
    std::size_t components = 0;
    std::size_t largest = 0;
    for (const auto& [node, others] : beside) {
        if (seen.count(node)) continue;
        const auto reached = distances_from(node);
        for (const auto& [one, steps] : reached) seen.insert(one);
        ++components;
        largest = std::max(largest, reached.size());
    }
    CHECK(components == answers["components"]["count"]);
    CHECK(largest == answers["components"]["largest"]);
    std::string from;
    std::string to;
    for (const auto& [key, name] : names) {
        if (name == answers["chain"]["from"]) from = key;
        if (name == answers["chain"]["to"]) to = key;
    }
    REQUIRE_FALSE(from.empty());
    CHECK(distances_from(from)[to] == answers["chain"]["edges_person_object_person"]);
}
