#include "kg/weigh/gather.h"

#include <algorithm>
#include <map>
#include <unordered_map>

#include "kg/model/vocabulary.h"
#include "kg/store/snapshot.h"
#include "kg/weigh/aliases.h"
#include "kg/weigh/overlap.h"
#include "kg/weigh/profile.h"

namespace saggar {

namespace {

// What an author's certainty makes of a reading (R5).
struct Hedged {
    bool turned = false;  // it counts for the other side
    double share = 0;
};
Hedged hedged(double certainty) {
    return certainty >= .5 ? Hedged{false, 2 * certainty - 1} : Hedged{true, 1 - 2 * certainty};
}

// One question's walk.
class Walk {
public:
    Walk(const Snapshot& snapshot, const Profile& profile, SourceBook& sources, Aliases& aliases, ClaimBuckets& buckets,
         const LeftOut& without, bool rivals)
        : snapshot_(snapshot),
          profile_(profile),
          sources_(sources),
          aliases_(aliases),
          buckets_(buckets),
          without_(without),
          rivals_(rivals) {}

    void suppose(const ClaimRow& row) { read_.emplace(row.ref, ClaimWithEvidence{row, {}}); }

    Case from(std::span<const ClaimRef> asked) {
        for (const ClaimRef ref : asked) want(ref);
        for (std::size_t i = 0; i < wanted_.size(); ++i) expand(wanted_[i]);  // grows as it goes
        tie_corrections();
        cut_copying_circles(case_);
        sources_.add_families(case_);
        return std::move(case_);
    }

private:
    // The place of the claim in the case; it becomes part of the question.
    CaseIndex want(ClaimRef ref) {
        const CaseIndex index = place(ref);
        if (!case_.claims[index].bystander) return index;
        case_.claims[index].bystander = false;
        wanted_.push_back(index);
        return index;
    }

    CaseIndex place(ClaimRef ref) {
        const auto known = places_.find(ref);
        if (known != places_.end()) return known->second;
        const auto index = static_cast<CaseIndex>(case_.claims.size());
        places_.emplace(ref, index);
        CaseClaim claim;
        claim.ref = ref;
        claim.bystander = true;
        case_.claims.push_back(std::move(claim));
        rows_.push_back(row_of(ref));
        if (rows_[index]) {
            case_.claims[index].id = rows_[index]->claim.id;
            read_evidence(index);
        }
        return index;
    }

    const std::optional<ClaimWithEvidence>& row_of(ClaimRef ref) {
        const auto known = read_.find(ref);
        if (known != read_.end()) return known->second;
        if (const ClaimWithEvidence* read = buckets_.find(ref)) return read_.emplace(ref, *read).first->second;
        auto row = snapshot_.claim(ref);
        if (row) sort_evidence(snapshot_, *row);
        return read_.emplace(ref, std::move(row)).first->second;
    }

    std::vector<ClaimRef> by_content(std::vector<ClaimRef> refs) {
        const auto id = [&](ClaimRef ref) { return row_of(ref) ? row_of(ref)->claim.id : ContentId{}; };
        std::sort(refs.begin(), refs.end(), [&](ClaimRef a, ClaimRef b) { return id(a) < id(b); });
        return refs;
    }

    void read_evidence(CaseIndex claim) {
        for (const EvidenceRow& row : rows_[claim]->evidence) {
            if (without_.has(row.id, row.source)) continue;
            const CaseIndex source = sources_.place(case_, row.source);
            add_reading(claim, reading_of(row, claim, source));
            if (snapshot_.any_corrections()) note_corrections(row.id, source);
        }
    }

    CaseReading reading_of(const EvidenceRow& row, CaseIndex claim, CaseIndex source) const {
        CaseReading reading;
        reading.id = row.id;
        reading.claim = claim;
        reading.source = source;
        reading.takes_back = !row.corrects.empty();
        const auto certainty = profile_.certainty_of(row.certainty);
        const Hedged hedge = certainty ? hedged(*certainty) : Hedged{};
        reading.against = (row.stance == Stance::against || row.mention) != hedge.turned;
        reading.share = hedge.share * (row.reading == "indirect" ? profile_.indirect : 1) * row.mention.value_or(1);
        reading.no_basis = reading.share <= 0 || case_.sources[source].no_basis;
        return reading;
    }

    void add_reading(CaseIndex claim, CaseReading reading) {
        case_.claims[claim].readings.push_back(static_cast<CaseIndex>(case_.readings.size()));
        case_.readings.push_back(std::move(reading));
    }

    // --- corrections ---------------------------------------------------------------------------------------------
    void note_corrections(const ContentId& old, CaseIndex source) {
        auto rows = snapshot_.corrections_of(old);
        std::sort(rows.begin(), rows.end(), [](const EvidenceRow& a, const EvidenceRow& b) { return a.id < b.id; });
        for (const EvidenceRow& row : rows) {
            if (without_.has(row.id, row.source) || row.id == old) continue;
            if (same_author(source, sources_.place(case_, row.source))) corrections_[old].push_back({row.claim, row.id});
        }
    }

    bool same_author(CaseIndex old_source, CaseIndex new_source) const {
        const SourceTerms& a = case_.sources[old_source];
        const SourceTerms& b = case_.sources[new_source];
        if (old_source == new_source || a.author.empty() || b.author.empty() || a.author == b.author) return true;
        return !a.family.empty() && a.family == b.family && a.family_dependence >= 1;
    }

    // Finds the readings that take others back, directly or through further corrections.
    void tie_corrections() {
        if (corrections_.empty()) return;
        std::vector<ClaimRef> elsewhere;
        for (std::size_t before = 0; before != case_.claims.size();) {  // a new claim may bring new corrections
            before = case_.claims.size();
            elsewhere.clear();
            for (const auto& entry : corrections_) {
                for (const auto& correction : entry.second) elsewhere.push_back(correction.first);
            }
            for (const ClaimRef ref : by_content(elsewhere)) place(ref);
        }
        std::map<ContentId, CaseIndex> reading_by_id;
        for (CaseIndex i = 0; i < case_.readings.size(); ++i) {
            if (!case_.readings[i].is_list) reading_by_id[case_.readings[i].id] = i;
        }
        for (CaseReading& reading : case_.readings) {
            if (reading.is_list) continue;
            std::set<ContentId> later;
            collect_later(reading.id, later);
            for (const ContentId& id : later) {
                const auto found = reading_by_id.find(id);
                if (found != reading_by_id.end() && id != reading.id) reading.taken_back_by.push_back(found->second);
            }
        }
    }

    void collect_later(const ContentId& old, std::set<ContentId>& later) const {
        std::vector<ContentId> at{old};
        while (!at.empty()) {
            const auto found = corrections_.find(at.back());
            at.pop_back();
            if (found == corrections_.end()) continue;
            for (const auto& correction : found->second) {
                if (later.insert(correction.second).second) at.push_back(correction.second);
            }
        }
    }

    // --- the question grows --------------------------------------------------------------------------------------
    void expand(CaseIndex index) {
        if (!rows_[index]) return;
        const ClaimRef ref = case_.claims[index].ref;
        const Relation* const relation = snapshot_.vocabulary().find_relation(snapshot_.relation_name(ref.relation));
        const bool at_most_one = rivals_ && relation && relation->at_most_one;
        const bool identity = relation && relation->identity;
        if (snapshot_.any_listings()) add_lists(index);
        if (snapshot_.any_arguments()) add_arguments(index);
        if (at_most_one) add_rivals(index, ref.subject, {});
        if (!identity && aliases_.any()) add_identities(index, at_most_one);
        if (relation && relation->symmetric) add_same_claim(index, turned_round(rows_[index]->claim), {});
    }

    void add_lists(CaseIndex index) {
        const ClaimRow& row = rows_[index]->claim;
        auto lists = snapshot_.listings(row.ref.subject, row.ref.relation);
        std::sort(lists.begin(), lists.end(), [&](const ListingRow& a, const ListingRow& b) { return a.id < b.id; });
        for (const ListingRow& list : lists) {
            if (without_.has(list.id, list.source) || !list_covers(list, row, profile_.about_years) || is_listed(list, row)) continue;
            const CaseIndex source = sources_.place(case_, list.source);
            CaseReading reading;
            reading.id = list.id;
            reading.is_list = true;
            reading.claim = index;
            reading.source = source;
            reading.against = true;
            reading.share = list.completeness;
            reading.no_basis = list.completeness <= 0 || case_.sources[source].no_basis;
            add_reading(index, std::move(reading));
        }
    }

    // Whether the source of the list has the object, in this scope or any other.
    bool is_listed(const ListingRow& list, const ClaimRow& row) {
        for (const ClaimWithEvidence& one : buckets_.of(row.ref.subject, row.ref.relation)) {
            if (!same_object(one.claim, row)) continue;
            for (const EvidenceRow& evidence : one.evidence) {
                const bool says_so = evidence.stance == Stance::in_favour && !evidence.mention;
                if (evidence.source == list.source && says_so && !without_.has(evidence.id)) return true;
            }
        }
        return false;
    }

    void add_arguments(CaseIndex index) {
        auto rows = snapshot_.arguments_for(case_.claims[index].ref);
        std::sort(rows.begin(), rows.end(), [](const ArgumentRow& a, const ArgumentRow& b) { return a.id < b.id; });
        for (const ArgumentRow& row : rows) {
            if (without_.has(row.id) || row.strength <= 0) continue;
            // A premise that has been withdrawn holds nowhere: the argument says nothing, and its other premises are not asked about.
            const auto withdrawn = [this](ClaimRef premise) { return !row_of(premise).has_value(); };
            if (std::any_of(row.premises.begin(), row.premises.end(), withdrawn)) continue;
            CaseArgument argument;
            argument.id = row.id;
            argument.against = row.stance == Stance::against;
            argument.strength = row.strength;
            for (const ClaimRef premise : by_content(row.premises)) argument.premises.push_back(want(premise));
            case_.claims[index].arguments.push_back(std::move(argument));
        }
    }

    // Rivals among the claims of `subject`, which is the claim's own subject or another name of it.
    void add_rivals(CaseIndex index, EntityId subject, const std::vector<ClaimRef>& identities) {
        const ClaimRow row = rows_[index]->claim;
        const int about = about_years(rows_[index]->evidence);
        std::vector<ClaimRef> rivals;
        for (const ClaimWithEvidence& one : buckets_.of(subject, row.ref.relation)) {
            if (one.claim.ref == row.ref || !scopes_overlap(row, one.claim, profile_.about_years)) continue;
            if (!objects_exclude(row, about, one.claim, about_years(one.evidence))) continue;
            if (row.has_entity_object() && one.claim.has_entity_object() && aliases_.are_one(row.object, one.claim.object)) continue;
            rivals.push_back(one.claim.ref);
        }
        for (const ClaimRef rival : rivals) {
            CaseRival entry;
            entry.claim = want(rival);
            for (const ClaimRef identity : identities) entry.identities.push_back(want(identity));
            case_.claims[index].rivals.push_back(std::move(entry));
        }
    }

    // What "about" means to the sources of a claim: the widest of them.
    int about_years(const std::vector<EvidenceRow>& evidence) {
        int widest = -1;
        for (const EvidenceRow& row : evidence) {
            const CaseIndex source = sources_.place(case_, row.source);
            widest = std::max(widest, case_.sources[source].about_years);
        }
        return widest < 0 ? profile_.about_years : widest;
    }

    void add_identities(CaseIndex index, bool at_most_one) {
        const ClaimRow row = rows_[index]->claim;
        const auto subjects = aliases_.of(row.ref.subject);
        for (const Alias& subject : subjects) {
            Claim other = snapshot_.to_record(row);
            other.subject = snapshot_.key_of(subject.other);
            add_same_claim(index, other, subject.identities);
            if (at_most_one) add_rivals(index, subject.other, subject.identities);
        }
        if (!row.has_entity_object()) return;
        for (const Alias& object : aliases_.of(row.object)) {
            Claim other = snapshot_.to_record(row);
            other.object.text = snapshot_.key_of(object.other);
            add_same_claim(index, other, object.identities);
            for (const Alias& subject : subjects) {
                other.subject = snapshot_.key_of(subject.other);
                std::vector<ClaimRef> both = subject.identities;
                both.insert(both.end(), object.identities.begin(), object.identities.end());
                add_same_claim(index, other, both);
            }
        }
    }

    Claim turned_round(const ClaimRow& row) const {
        Claim claim = snapshot_.to_record(row);
        if (row.has_entity_object()) std::swap(claim.subject, claim.object.text);
        return claim;
    }

    // An argument from the same claim under another name, where the graph has it.
    void add_same_claim(CaseIndex index, const Claim& same, const std::vector<ClaimRef>& identities) {
        const auto found = snapshot_.find_claim(same);
        if (!found || *found == case_.claims[index].ref) return;
        CaseArgument argument;
        argument.premises.push_back(want(*found));
        for (const ClaimRef identity : identities) argument.premises.push_back(want(identity));
        case_.claims[index].arguments.push_back(std::move(argument));
    }

    const Snapshot& snapshot_;
    const Profile& profile_;
    SourceBook& sources_;
    Aliases& aliases_;
    ClaimBuckets& buckets_;
    const LeftOut& without_;
    bool rivals_;
    Case case_;
    std::vector<std::optional<ClaimWithEvidence>> rows_;  // beside case_.claims
    std::unordered_map<ClaimRef, CaseIndex> places_;
    std::unordered_map<ClaimRef, std::optional<ClaimWithEvidence>> read_;
    std::vector<CaseIndex> wanted_;
    std::map<ContentId, std::vector<std::pair<ClaimRef, ContentId>>> corrections_;  // what was taken back -> by what
};

}  // namespace

Gatherer::Gatherer(const Snapshot& snapshot, const Profile& profile)
    : snapshot_(snapshot), profile_(profile), sources_(snapshot, profile), aliases_(snapshot), buckets_(snapshot) {}

Case Gatherer::gather(std::span<const ClaimRef> asked, const LeftOut& without, bool rivals) {
    buckets_.trim();
    return Walk(snapshot_, profile_, sources_, aliases_, buckets_, without, rivals).from(asked);
}

namespace {

// No number of the store comes near it.
constexpr std::uint64_t supposed_number = std::uint64_t{1} << 62;

std::optional<ClaimRow> row_of(const Snapshot& snapshot, const Claim& claim) {
    const auto subject = snapshot.find(claim.subject);
    const RelationId relation = snapshot.relation_id(claim.relation);
    if (!subject || !relation) return std::nullopt;
    ClaimRow row;
    row.ref = {*subject, relation, supposed_number};
    row.id = id_of(claim);
    row.object_type = claim.object.type;
    if (row.has_entity_object()) {
        const auto object = snapshot.find(claim.object.text);
        if (!object) return std::nullopt;
        row.object = *object;
    } else {
        row.object_text = claim.object.text;
        row.object_unit = claim.object.unit;
    }
    row.scope = claim.scope;
    row.when = claim.when;
    return row;
}

}  // namespace

std::optional<Case> Gatherer::gather_supposed(const Claim& supposed) {
    const auto row = row_of(snapshot_, supposed);
    if (!row) return std::nullopt;
    const LeftOut nothing;
    buckets_.trim();
    Walk walk(snapshot_, profile_, sources_, aliases_, buckets_, nothing, true);
    walk.suppose(*row);
    return walk.from({&row->ref, 1});
}

}  // namespace saggar
