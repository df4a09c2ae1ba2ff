// Everything said of one of our nodes, and the line of JSON Lines it makes.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "importers/rdf/byte_feed.h"
#include "kg/model/problem.h"

namespace saggar::rdf {

// An IRI of our space taken apart: <urn:saggar:claim:ID:version:3:proposition> is node "claim:ID:version:3", part "proposition".
struct OwnName {
    std::string space;  // "claim"
    std::string name;   // "ID", a key, "3", "3:vocabulary"
    std::string node;   // space, name and version
    std::string part;   // what stands behind; empty for the node itself
};
std::optional<OwnName> own_name_of(std::string_view term);

class OwnNode {
public:
    void clear();
    void add(std::string_view part, std::string_view predicate, std::string_view object, const Spot& spot);

    // {"claim":{...}} and the like; nothing where the node is no record. Problems (rdf-...) where it cannot be one; their places have only
    // a line and a column.
    std::optional<std::string> json_line(const OwnName& name, Problems& problems) const;
    // Where it stands in the history; nothing where it does not say.
    std::optional<std::uint64_t> entry() const { return number("entry"); }
    std::optional<std::uint64_t> order() const { return number("order"); }
    std::optional<std::uint64_t> entry_number() const { return number("number"); }
    const Spot& spot() const { return spot_; }

private:
    struct Said {
        std::string predicate;
        std::string object;
        Spot spot;
    };
    using Parts = std::map<std::string, std::vector<Said>, std::less<>>;

    std::optional<std::uint64_t> number(std::string_view field) const;
    friend class OwnJson;

    Parts parts_;
    Spot spot_{0, 0};
};

}  // namespace saggar::rdf
