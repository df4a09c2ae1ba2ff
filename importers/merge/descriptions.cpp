#include "importers/merge/descriptions.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>

namespace saggar {
namespace {

std::string words(const std::string& text) { return text; }
std::string words(const Name& name) { return name.language.empty() ? name.text : name.text + " [" + name.language + "]"; }
std::string words(const std::optional<double>& number) { return number ? fmt::format("{:g}", *number) : ""; }
std::string words(const std::optional<int>& number) { return number ? fmt::format("{}", *number) : ""; }

bool is_empty(const std::string& text) { return text.empty(); }
bool is_empty(const Name& name) { return name.text.empty(); }
template <typename Held>
bool is_empty(const std::optional<Held>& one) { return !one; }

// The two histories of one description, field by field.
template <typename Described>
class Pair {
public:
    Pair(const std::vector<Described>& ours, const std::vector<Described>& theirs, std::vector<FieldDifference>& differences)
        : ours_(ours), theirs_(theirs), differences_(differences) {}

    // The value that holds in both together. `get` takes a field out of a description. True: they differ, and ours stays.
    template <typename Get>
    bool differs(Get get) const {
        const auto mine = get(ours_.back()), other = get(theirs_.back());
        return !(mine == other) && !is_empty(mine) && !is_empty(other) && was(theirs_, get, mine) == was(ours_, get, other);
    }
    template <typename Get>
    auto pick(const char* field, Get get) {
        auto mine = get(ours_.back());
        auto other = get(theirs_.back());
        if (mine == other || is_empty(other)) return mine;
        const bool they_went_on = was(theirs_, get, mine), we_went_on = was(ours_, get, other);
        if (is_empty(mine)) return we_went_on ? mine : other;
        if (they_went_on != we_went_on) return they_went_on ? other : mine;
        differences_.push_back({ours_.back().key, field, words(mine), words(other)});
        return mine;
    }
    template <typename Field>
    auto pick(const char* field, Field Described::* member) {
        return pick(field, [member](const Described& one) { return one.*member; });
    }

private:
    // Whether an earlier version, and not the last one, has this value.
    template <typename Get, typename Value>
    static bool was(const std::vector<Described>& versions, Get get, const Value& value) {
        return std::any_of(versions.begin(), versions.end() - 1, [&](const Described& one) { return get(one) == value; });
    }

    const std::vector<Described>& ours_;
    const std::vector<Described>& theirs_;
    std::vector<FieldDifference>& differences_;
};

template <typename Item>
void unite(std::vector<Item>& mine, const std::vector<Item>& theirs) {
    for (const Item& item : theirs)
        if (std::find(mine.begin(), mine.end(), item) == mine.end()) mine.push_back(item);
}

}  // namespace

Entity merged(const std::vector<Entity>& ours, const std::vector<Entity>& theirs, std::vector<FieldDifference>& differences) {
    Pair<Entity> pair(ours, theirs, differences);
    Entity one = ours.back();
    const Entity& other = theirs.back();
    const bool two_labels = pair.differs([](const Entity& it) { return it.label; });
    const auto remark = [](const Entity& it) { return it.remark; };
    one.label = pair.pick("label", &Entity::label);
    unite(one.also, other.also);
    if (two_labels) unite(one.also, {other.label});
    std::erase(one.also, one.label);
    if (pair.differs(remark)) {
        if (one.remark.find(other.remark) == std::string::npos)
            one.remark = other.remark.find(one.remark) == std::string::npos ? one.remark + "\n" + other.remark : other.remark;
    } else {
        one.remark = pair.pick("remark", remark);
    }
    one.image = pair.pick("image", &Entity::image);
    unite(one.identifiers, other.identifiers);
    one.is_private = one.is_private || other.is_private;
    return one;
}

Source merged(const std::vector<Source>& ours, const std::vector<Source>& theirs, std::vector<FieldDifference>& differences) {
    Pair<Source> pair(ours, theirs, differences);
    Source one = ours.back();
    const Source& other = theirs.back();
    static constexpr std::pair<const char*, std::string Source::*> texts[] = {
        {"title", &Source::title},   {"type", &Source::type},       {"grade", &Source::grade},           {"family", &Source::family},
        {"family_kind", &Source::family_kind}, {"issued", &Source::issued}, {"author", &Source::author}, {"archive", &Source::archive},
        {"place", &Source::place},   {"collection", &Source::collection}, {"box", &Source::box},         {"folder", &Source::folder},
        {"rights", &Source::rights}, {"url", &Source::url}};
    for (const auto& [field, member] : texts) one.*member = pair.pick(field, member);
    one.reliability = pair.pick("reliability", &Source::reliability);
    one.dependence = pair.pick("dependence", &Source::dependence);
    one.tolerance_years = pair.pick("tolerance", &Source::tolerance_years);
    for (const Copy& copy : other.copied_from) {
        const auto known = std::find_if(one.copied_from.begin(), one.copied_from.end(), [&](const Copy& mine) { return mine.of == copy.of; });
        if (known == one.copied_from.end()) {
            one.copied_from.push_back(copy);
        } else if (!(*known == copy)) {
            differences.push_back({one.key, "copied_from " + copy.of, fmt::format("chance {:g}, fidelity {:g}", known->chance, known->fidelity),
                                   fmt::format("chance {:g}, fidelity {:g}", copy.chance, copy.fidelity)});
        }
    }
    std::sort(one.copied_from.begin(), one.copied_from.end(), [](const Copy& a, const Copy& b) { return a.of < b.of; });
    std::set<std::string> further;
    for (const Source* side : {static_cast<const Source*>(&one), &other})
        for (const auto& field : side->more) further.insert(field.first);
    std::vector<std::pair<std::string, std::string>> more;
    for (const std::string& name : further) {
        const auto text = pair.pick(name.c_str(), [&](const Source& it) -> std::string {
            for (const auto& [field, value] : it.more)
                if (field == name) return value;
            return "";
        });
        if (!text.empty()) more.emplace_back(name, text);
    }
    one.more = std::move(more);
    one.is_private = one.is_private || other.is_private;
    return one;
}

}  // namespace saggar
