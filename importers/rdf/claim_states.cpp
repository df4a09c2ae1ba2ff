#include "importers/rdf/claim_states.h"

#include <algorithm>

namespace saggar::rdf {
namespace {

constexpr std::string_view id_words[] = {"claim", "evidence", "list", "argument", "ruling"};

}  // namespace

void ClaimStates::put(const ContentId& id, std::uint8_t word, std::uint64_t entry) {
    Known& known = known_[id];
    known.word = word;
    known.stands = true;
    known.last = entry;
    known.withdrawn = 0;
}

void ClaimStates::note(const Record& record, std::uint64_t entry) {
    if (const auto* entity = std::get_if<Entity>(&record)) {
        versions_["entity " + entity->key] = entry;
    } else if (const auto* source = std::get_if<Source>(&record)) {
        versions_["source " + source->key] = entry;
    } else if (const auto* claim = std::get_if<Claim>(&record)) {
        put(id_of(*claim), 0, entry);
    } else if (const auto* evidence = std::get_if<Evidence>(&record)) {
        const ContentId id = id_of(*evidence);
        put(id, 1, entry);
        const About::Says says = evidence->mention                    ? About::silence
                                 : evidence->stance == Stance::against ? About::against
                                 : evidence->certainty.empty()         ? About::plainly
                                                                       : About::hedged;
        about_[evidence->claim].push_back({id, says, evidence->corrects});
        if (!evidence->corrects.empty()) corrected_by_[evidence->corrects].push_back(id);
    } else if (const auto* listing = std::get_if<Listing>(&record)) {
        put(id_of(*listing), 2, entry);
    } else if (const auto* argument = std::get_if<Argument>(&record)) {
        const ContentId id = id_of(*argument);
        put(id, 3, entry);
        about_[argument->conclusion].push_back({id, argument->stance == Stance::against ? About::against : About::argues, {}});
    } else if (const auto* ruling = std::get_if<Ruling>(&record)) {
        const ContentId id = id_of(*ruling);
        put(id, 4, entry);
        const About::Says says = ruling->decision == Ruling::Decision::accepted   ? About::accepts
                                 : ruling->decision == Ruling::Decision::rejected ? About::rejects
                                                                                  : About::leaves_open;
        about_[ruling->claim].push_back({id, says, {}});
    } else if (const auto* withdrawal = std::get_if<Withdrawal>(&record)) {
        Known& known = known_[withdrawal->of];
        known.stands = false;
        known.withdrawn = entry;
    }
}

bool ClaimStates::stands(const ContentId& id) const {
    const auto found = known_.find(id);
    if (found == known_.end() || !found->second.stands) return false;
    const auto corrected = corrected_by_.find(id);
    if (corrected == corrected_by_.end()) return true;
    return std::none_of(corrected->second.begin(), corrected->second.end(), [this](const ContentId& by) {
        const auto one = known_.find(by);
        return one != known_.end() && one->second.stands;
    });
}

std::string_view ClaimStates::status(const ContentId& claim) const {
    if (!stands(claim)) return "withdrawn";
    const auto found = about_.find(claim);
    if (found == about_.end()) return "unsupported";
    bool said[8] = {};
    About::Says ruled = About::plainly;
    for (const About& one : found->second) {
        if (!stands(one.id)) continue;
        if (one.says >= About::accepts) {
            ruled = one.says;
        } else {
            said[one.says] = true;
        }
    }
    const bool in_favour = said[About::plainly] || said[About::hedged] || said[About::argues];
    const bool against = said[About::against] || said[About::silence];
    if (ruled == About::accepts) return "asserted";
    if (ruled == About::rejects) return "denied";
    if (ruled == About::leaves_open && in_favour) return "disputed";
    if (in_favour && against) return "disputed";
    if (against) return said[About::against] ? "denied" : "unsupported";
    if (said[About::plainly]) return "asserted";
    if (said[About::hedged]) return "hedged";
    return said[About::argues] ? "inferred" : "unsupported";
}

std::string_view ClaimStates::word_of(const ContentId& id) const {
    const auto found = known_.find(id);
    return id_words[found == known_.end() ? 0 : found->second.word];
}

std::uint64_t ClaimStates::last_entry(const ContentId& id) const {
    const auto found = known_.find(id);
    return found == known_.end() ? 0 : found->second.last;
}

std::uint64_t ClaimStates::withdrawn_by(const ContentId& id) const {
    const auto found = known_.find(id);
    return found == known_.end() ? 0 : found->second.withdrawn;
}

std::uint64_t ClaimStates::last_entry(std::string_view word, const std::string& key) const {
    const auto found = versions_.find(std::string(word) + ' ' + key);
    return found == versions_.end() ? 0 : found->second;
}

}  // namespace saggar::rdf
