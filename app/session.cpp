#include "app/session.h"

#include <fmt/chrono.h>
#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cstdlib>
#include <ctime>

#include "kg/model/fault.h"
#include "kg/model/vocabulary.h"
#include "queries/privacy.h"

namespace saggar::app {
namespace {

bool all_digits(const std::string& text) {
    return !text.empty() && text.find_first_not_of("0123456789") == std::string::npos;
}

}  // namespace

std::string now() {
    std::time_t seconds = std::chrono::system_clock::to_time_t(std::chrono::system_clock::now());
    if (const char* fixed = std::getenv("SOURCE_DATE_EPOCH")) seconds = std::strtoll(fixed, nullptr, 10);
    return fmt::format("{:%Y-%m-%dT%H:%M:%SZ}", fmt::gmtime(seconds));
}

// Entry numbers are small; four digits and more could be a year, and years win.
std::uint64_t entry_named(const Store& store, const std::string& text, const std::string& option) {
    if (all_digits(text)) {
        if (text.size() > 18) throw UsageFault("there is no entry " + text, "see `saggar history`");
        if (text.size() < 4 || std::stoull(text) <= store.last_entry()) return std::stoull(text);
    }
    if (text.size() < 4 || text.find_first_not_of("0123456789-T:Z") != std::string::npos)
        throw UsageFault(option + " wants an entry number or a date, not \"" + text + "\"",
                         "for example " + option + " 12 or " + option + " 2026-03-31");
    return store.entry_at(text);
}

Session open_to_read(const Call& call) {
    Store store = Store::open(call.graph, Access::read);
    std::optional<std::uint64_t> as_of;
    if (!call.as_of.empty()) as_of = entry_named(store, call.as_of, "--as-of");
    auto snapshot = store.snapshot(as_of);
    return Session{std::move(store), std::move(snapshot)};
}

Store open_to_write(const Call& call) {
    if (!call.as_of.empty()) throw UsageFault("the past cannot be changed", "leave --as-of out");
    return Store::open(call.graph, Access::write);
}

ChangeHead change_head(const Call& call, const Store& store, std::string verb, std::string reason) {
    ChangeHead head;
    head.verb = std::move(verb);
    head.author = call.author.empty() ? store.setting("author") : call.author;
    head.reason = std::move(reason);
    head.time = now();
    return head;
}

EntityId need_thing(const Call& call, const Snapshot& snapshot, const std::string& key) {
    const EntityId id = snapshot.need(key);
    if (!Privacy(snapshot, call.with_private).may_show(id))
        throw UsageFault(key + " is marked private", "see it with --with-private");
    return id;
}

ClaimRef need_claim(const Snapshot& snapshot, const std::string& text) {
    const auto first = text.find(' ');
    if (first == std::string::npos) {
        const ContentId id = snapshot.need_id(text);
        const auto place = snapshot.place_of(id);
        if (place->type != RecordPlace::Type::claim)
            throw UsageFault(text + " is not a claim", "name a claim by its id or as `subject relation object`");
        if (!snapshot.claim(place->claim))
            throw UsageFault("the claim " + id.brief() + " is not in force",
                             "see `saggar history` for when it was withdrawn, or use --as-of");
        return place->claim;
    }
    const auto second = text.find(' ', first + 1);
    if (second == std::string::npos)
        throw UsageFault("\"" + text + "\" names no claim", "name a claim by its id or as `subject relation object`");
    const EntityId subject = snapshot.need(text.substr(0, first));
    const std::string relation = text.substr(first + 1, second - first - 1);
    const std::string object = text.substr(second + 1);
    if (!snapshot.vocabulary().find_relation(relation))
        throw UsageFault("there is no relation " + relation +
                             Vocabulary::suggestion(snapshot.vocabulary().nearest_relation(relation)),
                         "see `saggar show vocabulary`");
    std::vector<ClaimWithEvidence> matching;
    for (ClaimWithEvidence& claim : snapshot.claims_of(subject, snapshot.relation_id(relation))) {
        const std::string value = claim.claim.has_entity_object() ? snapshot.key_of(claim.claim.object)
                                  : claim.claim.object_unit.empty()
                                      ? claim.claim.object_text
                                      : claim.claim.object_text + " " + claim.claim.object_unit;
        if (value == object) matching.push_back(std::move(claim));
    }
    if (matching.empty())
        throw UsageFault("nobody has claimed that " + text, "see `saggar show " + text.substr(0, first) + "`");
    // Said without scope and time, the claim for everywhere and always is meant, where there is one.
    const auto plain = std::find_if(matching.begin(), matching.end(), [](const ClaimWithEvidence& one) {
        return one.claim.scope.empty() && one.claim.when.empty();
    });
    if (plain != matching.end()) return plain->claim.ref;
    if (matching.size() > 1) {
        std::string ids;
        for (const auto& claim : matching) ids += " claim:" + claim.claim.id.brief();
        throw UsageFault("several claims read \"" + text + "\", for different scopes or times",
                         "name one by its id:" + ids);
    }
    return matching.front().claim.ref;
}

std::string name_of_claim(const Snapshot& snapshot, ClaimRef claim) {
    const auto row = snapshot.claim(claim);
    if (!row) return {};
    const Claim record = snapshot.to_record(row->claim);
    return record.subject + " " + record.relation + " " + record.object.text +
           (record.object.unit.empty() ? "" : " " + record.object.unit);
}

}  // namespace saggar::app
