// A small graph in a folder of its own, for tests: sources, claims and readings in a few words.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "kg/store/store.h"
#include "kg/weigh/profile.h"
#include "kg/weigh/weigher.h"
#include "tests/kg/store/temporary_folder.h"

namespace saggar::testing {

class SmallGraph {
public:
    // With the built-in profile, or with the given document.
    explicit SmallGraph(std::string profile = "") : store_(Store::create(folder_.path() / "g", {"", std::move(profile), "tester", "2026-01-01T00:00:00Z"})) {}

    Source& source(const std::string& key, double reliability) {
        Source source;
        source.key = "source:" + key;
        source.reliability = reliability;
        sources_.push_back(std::make_unique<Source>(source));
        return *sources_.back();
    }
    Claim claim(const std::string& relation, const std::string& object, const std::string& subject = "shape:it",
                Value::Type type = Value::Type::entity) {
        const Claim claim{subject, relation, {type, object, ""}, "", "", false};
        records_.push_back(claim);
        return claim;
    }
    Evidence reading(const Claim& claim, const std::string& source, const std::string& certainty = "",
                     Stance stance = Stance::in_favour) {
        Evidence evidence;
        evidence.claim = id_of(claim);
        evidence.source = "source:" + source;
        evidence.certainty = certainty;
        evidence.stance = stance;
        return add(evidence);
    }
    Evidence against(const Claim& claim, const std::string& source) { return reading(claim, source, "", Stance::against); }
    // One source of its own for one reading.
    Evidence witness(const Claim& claim, double reliability, Stance stance = Stance::in_favour) {
        const std::string key = "witness-" + std::to_string(sources_.size());
        source(key, reliability);
        return reading(claim, key, "", stance);
    }
    Argument argument(const std::vector<Claim>& premises, const Claim& conclusion, double strength = 1,
                      Stance stance = Stance::in_favour) {
        Argument argument;
        for (const Claim& premise : premises) argument.premises.push_back(id_of(premise));
        std::sort(argument.premises.begin(), argument.premises.end());
        argument.conclusion = id_of(conclusion);
        argument.strength = strength;
        argument.stance = stance;
        argument.reason = "so it is said";
        return add(argument);
    }
    template <class R>
    R add(const R& record) {
        records_.push_back(record);
        return record;
    }

    // Writes what was put since the last time.
    void write() {
        ChangeHead head;
        head.verb = "note";
        head.time = "2026-01-02T00:00:00Z";
        Change change = store_.begin(head);
        for (const auto& source : sources_) change.put(*source);
        for (const Record& record : records_) change.put(record);
        change.commit();
        records_.clear();
        snapshot_ = store_.snapshot();
        weigher_.emplace(*snapshot_);
    }

    Store& store() { return store_; }
    const Snapshot& snapshot() const { return *snapshot_; }
    Weigher& weigher() { return *weigher_; }
    ClaimRef ref(const Claim& claim) const { return *snapshot_->find_claim(claim); }
    Weight weigh(const Claim& claim, const WeighOptions& options = {}) { return weigher_->weigh(ref(claim), options); }
    JointWeight joint(const std::vector<std::vector<Claim>>& chains, const WeighOptions& options = {}) {
        std::vector<Chain> refs;
        for (const auto& chain : chains) {
            refs.emplace_back();
            for (const Claim& claim : chain) refs.back().push_back(ref(claim));
        }
        return weigher_->joint(refs, options);
    }

private:
    TemporaryFolder folder_;
    Store store_;
    std::vector<std::unique_ptr<Source>> sources_;
    std::vector<Record> records_;
    std::unique_ptr<Snapshot> snapshot_;
    std::optional<Weigher> weigher_;
};

// The built-in profile with one piece of its text replaced.
inline std::string profile_with(const std::string& from, const std::string& to) {
    std::string text = Profile::standard().document();
    const auto at = text.find(from);
    if (at == std::string::npos) throw std::logic_error("the profile has no " + from);
    return text.replace(at, from.size(), to);
}

}  // namespace saggar::testing
