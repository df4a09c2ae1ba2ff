#include "kg/store/private_filter.h"

#include <algorithm>

namespace saggar {

namespace {

bool is_bare(const Entity& one) {
    return one.label.text.empty() && one.also.empty() && one.remark.empty() && one.image.empty() && one.identifiers.empty();
}

}  // namespace

void PrivateFilter::note(const Record& record) {
    if (const auto* entity = std::get_if<Entity>(&record)) {
        if (entity->is_private) keys_.insert(entity->key);
    } else if (const auto* source = std::get_if<Source>(&record)) {
        if (source->is_private) keys_.insert(source->key);
    } else if (const auto* evidence = std::get_if<Evidence>(&record)) {
        read_.insert(evidence->claim);
        if (evidence->is_private) return;
        const auto source = sources_.emplace(evidence->source, static_cast<std::uint32_t>(sources_.size())).first->second;
        open_readings_.push_back({evidence->claim, source});
    }
}

// Which claims have a reading that may leave is known only when all private sources are.
void PrivateFilter::settle() {
    std::vector<bool> hidden(sources_.size());
    for (const auto& [key, number] : sources_) hidden[number] = is_hidden_key(key);
    for (const OpenReading& one : open_readings_)
        if (!hidden[one.source]) openly_read_.insert(one.claim);
    sources_.clear();
    open_readings_ = {};
    settled_ = true;
}

bool PrivateFilter::hides(const Claim& one) const {
    if (one.is_private || is_hidden_key(one.subject) || is_hidden_key(one.scope)) return true;
    if (one.object.type == Value::Type::entity && is_hidden_key(one.object.text)) return true;
    const ContentId id = id_of(one);
    return read_.count(id) != 0 && openly_read_.count(id) == 0;
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
    Record open = record;
    if (auto* source = std::get_if<Source>(&open)) {
        std::erase_if(source->copied_from, [this](const Copy& copy) { return is_hidden_key(copy.of); });
        if (is_hidden_key(source->family)) source->family.clear();
    }
    return open;
}

}  // namespace saggar
