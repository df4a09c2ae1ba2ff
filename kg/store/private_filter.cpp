#include "kg/store/private_filter.h"

#include <algorithm>

namespace saggar {

namespace {

bool is_bare(const Entity& one) {
    return one.label.text.empty() && one.also.empty() && one.remark.empty() && one.image.empty() && one.identifiers.empty();
}

// Keys are told apart by their hashes here: of two that share one, the other would stay in, never come out.
std::size_t hashed(const std::string& key) { return key.empty() ? 0 : std::hash<std::string>{}(key); }

}  // namespace

bool speaks_of_its_records(const std::string& verb, const std::string& reason) {
    const std::string& told = verb == "merge" ? reason : verb;  // a merge tells the verb first
    return told.compare(0, 4, "load") != 0 && told.compare(0, 5, "start") != 0;
}

void PrivateFilter::note(const Record& record) {
    if (const auto* entity = std::get_if<Entity>(&record)) {
        if (entity->is_private) keys_.insert(entity->key);
    } else if (const auto* source = std::get_if<Source>(&record)) {
        if (source->is_private) keys_.insert(source->key);
    } else if (const auto* claim = std::get_if<Claim>(&record)) {
        const bool links = claim->object.type == Value::Type::entity;
        claims_.push_back({id_of(*claim), hashed(claim->subject), links ? hashed(claim->object.text) : 0, hashed(claim->scope),
                           claim->is_private});
    } else if (const auto* evidence = std::get_if<Evidence>(&record)) {
        spoken_of_.insert(evidence->claim);
        if (!evidence->is_private) open_readings_.push_back({evidence->claim, hashed(evidence->source)});
    } else if (const auto* argument = std::get_if<Argument>(&record)) {
        spoken_of_.insert(argument->conclusion);
        if (!argument->is_private) inferences_.push_back({argument->conclusion, argument->premises});
    }
}

// Which claims have a reading that may leave is known only when all private sources are.
void PrivateFilter::settle() {
    for (const std::string& key : keys_) key_hashes_.insert(hashed(key));
    for (const OpenReading& one : open_readings_)
        if (key_hashes_.count(one.source) == 0) openly_read_.insert(one.claim);
    open_readings_ = {};
    if (!inferences_.empty()) settle_conclusions();
    claims_ = {};
    inferences_ = {};
    settled_ = true;
}

// The least set of open conclusions: each follows from premises that are open without it.
void PrivateFilter::settle_conclusions() {
    std::unordered_set<ContentId> marked;
    for (const NotedClaim& one : claims_)
        if (one.is_marked) marked.insert(one.id);
    for (const NotedClaim& one : claims_)  // put again without the mark, it has lost it
        if (!one.is_marked) marked.erase(one.id);
    for (const NotedClaim& one : claims_)
        if (key_hashes_.count(one.subject) || key_hashes_.count(one.object) || key_hashes_.count(one.scope)) marked.insert(one.id);
    const auto is_open = [&](const ContentId& id) {
        return marked.count(id) == 0 && (openly_read_.count(id) != 0 || spoken_of_.count(id) == 0);
    };
    for (bool again = true; again;) {
        again = false;
        for (const Inference& one : inferences_) {
            if (openly_read_.count(one.conclusion) || !std::all_of(one.premises.begin(), one.premises.end(), is_open)) continue;
            openly_read_.insert(one.conclusion);
            again = true;
        }
    }
}

bool PrivateFilter::hides(const Claim& one) const {
    if (one.is_private || is_hidden_key(one.subject) || is_hidden_key(one.scope)) return true;
    if (one.object.type == Value::Type::entity && is_hidden_key(one.object.text)) return true;
    const ContentId id = id_of(one);
    return spoken_of_.count(id) != 0 && openly_read_.count(id) == 0;
}

bool PrivateFilter::hides(const Evidence& one) const {
    return one.is_private || ids_.count(one.claim) != 0 || is_hidden_key(one.source);
}

bool PrivateFilter::hides(const Listing& one) const {
    return one.is_private || is_hidden_key(one.source) || is_hidden_key(one.subject) || is_hidden_key(one.scope);
}

bool PrivateFilter::hides(const Argument& one) const {
    return one.is_private || ids_.count(one.conclusion) != 0 ||
           std::any_of(one.premises.begin(), one.premises.end(), [this](const ContentId& id) { return ids_.count(id) != 0; });
}

bool PrivateFilter::hides(const Ruling& one) const { return one.is_private || ids_.count(one.claim) != 0; }

std::optional<Record> PrivateFilter::pass(const Record& record) {
    if (!settled_) settle();
    if (std::visit([this](const auto& one) { return hides(one); }, record)) {
        ++kept_back_;
        std::visit(
            [this](const auto& one) {
                using One = std::decay_t<decltype(one)>;
                if constexpr (!std::is_same_v<One, Entity> && !std::is_same_v<One, Source> && !std::is_same_v<One, Withdrawal>)
                    ids_.insert(id_of(one));
            },
            record);
        return std::nullopt;
    }
    const auto* entity = std::get_if<Entity>(&record);
    if (entity && is_bare(*entity)) return std::nullopt;
    if (const auto* claim = std::get_if<Claim>(&record); claim && !ids_.empty()) ids_.erase(id_of(*claim));
    Record open = record;
    if (auto* source = std::get_if<Source>(&open)) {
        std::erase_if(source->copied_from, [this](const Copy& copy) { return is_hidden_key(copy.of); });
        if (is_hidden_key(source->family)) source->family.clear();
    }
    return open;
}

}  // namespace saggar
