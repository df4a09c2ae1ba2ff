#include "importers/merge/merge_sink.h"

#include <fmt/format.h>

#include <algorithm>

#include "kg/model/fault.h"
#include "kg/store/ruling_order.h"
#include "kg/store/versions.h"

namespace saggar {
namespace {

RuleEngine engine_for(const Snapshot& graph, const Vocabulary& vocabulary) {
    Problems problems;
    auto rules = read_rules(graph.vocabulary_text(), vocabulary, problems);
    return RuleEngine(vocabulary, rules ? std::move(*rules) : std::vector<Rule>{});
}

// "note: line:northern … (entry 12 of bea, 2026-03-01T10:00:00Z)"; what was itself a merge keeps what it told.
std::string told(const EntryHeader& entry, const std::string& name) {
    if (entry.verb == "merge" && !entry.reason.empty()) return entry.reason;
    return fmt::format("{}{}{} (entry {} of {}, {})", entry.verb, entry.reason.empty() ? "" : ": ", entry.reason, entry.number, name, entry.time);
}

template <typename Described>
std::vector<Described> only_records(std::vector<std::pair<std::uint64_t, Described>> versions) {
    std::vector<Described> all;
    for (auto& version : versions) all.push_back(std::move(version.second));
    return all;
}

}  // namespace

MergeSink::MergeSink(Into into, Descriptions descriptions)
    : into_(into), theirs_(std::move(descriptions)), copying_(into.before), rules_(engine_for(into.before, into.vocabulary)) {}

void MergeSink::add_counts() {
    const Entry::Counts& n = into_.change.counts();
    added_.entities += n.entities;
    added_.sources += n.sources;
    added_.claims += n.claims;
    added_.evidence += n.evidence;
    added_.lists += n.lists;
    added_.arguments += n.arguments;
    added_.rulings += n.rulings;
    added_.withdrawals += n.withdrawals;
}

void MergeSink::begin_entry(EntryHeader entry, const Origin&) {
    add_counts();
    ChangeHead head;
    head.verb = "merge";
    head.author = entry.author.empty() ? into_.options.author : entry.author;
    head.reason = told(entry, into_.name);
    head.time = into_.options.time;
    into_.change.follow_with(head);
}

void MergeSink::put(Record record, const Origin& origin) {
    try {
        std::visit([this](const auto& one) { take(one); }, record);
    } catch (const UsageFault& fault) {
        into_.report.problems.add({"merge-refused", Severity::error, origin.place_of(""), fault.what(), fault.next_step()});
    }
}

// --- descriptions ------------------------------------------------------------------------------------------------------
// Only the last version of theirs is taken, in the entry that made it.
void MergeSink::take(const Entity& entity) {
    const std::vector<Entity>& versions = theirs_.entities.at(entity.key);
    if (++taken_["e" + entity.key] < versions.size()) return;
    const auto id = into_.before.find(entity.key);
    if (!id) {
        into_.change.put(entity);
        return;
    }
    const Entity one = merged(only_records(entity_versions(into_.before, *id)), versions, into_.report.fields);
    if (into_.change.replace(one) == Put::already_there) ++into_.report.known;
}

void MergeSink::take(const Source& source) {
    const std::vector<Source>& versions = theirs_.sources.at(source.key);
    if (++taken_["s" + source.key] < versions.size()) return;
    const auto id = into_.before.find(source.key);
    const auto ours = id ? only_records(source_versions(into_.before, *id)) : std::vector<Source>{};
    Source one = ours.empty() ? source : merged(ours, versions, into_.report.fields);
    if (!copying_.note(one).empty()) {  // theirs and ours together would go round in a circle: ours stays
        const std::vector<Copy> without = ours.empty() ? std::vector<Copy>{} : ours.back().copied_from;
        std::string mine, other;
        for (const Copy& copy : without) mine += (mine.empty() ? "" : ", ") + copy.of;
        for (const Copy& copy : one.copied_from) other += (other.empty() ? "" : ", ") + copy.of;
        into_.report.fields.push_back({one.key, "copied_from", mine, other + " (with ours this would go round in a circle)"});
        one.copied_from = without;
        copying_.note(one);
    }
    const Put put = ours.empty() ? into_.change.put(one) : into_.change.replace(one);
    if (put == Put::already_there) ++into_.report.known;
}

// --- records with a content id -----------------------------------------------------------------------------------------
bool MergeSink::goes_further(const ContentId& id) {
    const std::uint64_t theirs = ++turns_[id], ours = into_.change.turns_of(id);
    if (theirs > ours) return true;
    if (theirs % 2 == 1 && ours % 2 == 0) maybe_still_withdrawn_.insert(id);
    return false;
}

void MergeSink::known(const ContentId& id, bool is_private) {
    ++into_.report.known;
    if (!is_private) into_.change.make_public(id);
}

void MergeSink::take(const Claim& claim) {
    const ContentId id = id_of(claim);
    if (!goes_further(id)) return known(id, claim.is_private);
    if (into_.change.put(claim) == Put::added && rules_.any()) rules_.note(claim);
}

template <typename Recorded>
void MergeSink::take_recorded(const Recorded& record) {
    const ContentId id = id_of(record);
    if (!goes_further(id)) {
        if (into_.change.recorded_also(id, record.recorded_by, record.recorded_on)) ++into_.report.recorded_too;
        return known(id, record.is_private);
    }
    into_.change.put(record);
}

void MergeSink::take(const Ruling& ruling) {
    const ContentId id = id_of(ruling);
    if (!goes_further(id)) return known(id, ruling.is_private);
    if (into_.change.put(ruling) != Put::added) return;
    RulingRow row;
    row.id = id;
    row.decision = ruling.decision;
    row.looked_at = ruling.looked_at;
    row.decided_by = ruling.decided_by;
    row.decided_on = ruling.decided_on;
    row.number = (std::uint64_t{1} << 62) + into_.report.known + added_.rulings + into_.change.counts().rulings;  // behind ours
    new_rulings_[ruling.claim].push_back(std::move(row));
}

void MergeSink::take(const Withdrawal& withdrawal) {
    if (turns_.count(withdrawal.of) == 0) {
        // A part of a history begins with a record in force that it does not tell.
        if (into_.change.turns_of(withdrawal.of) == 0) {
            ++into_.report.unknown_withdrawals;
            return;
        }
        turns_[withdrawal.of] = 1;
    }
    // Where a part of a history does not tell all turns of a record, it may be withdrawn here already.
    if (!goes_further(withdrawal.of) || into_.change.turns_of(withdrawal.of) % 2 == 0) {
        ++into_.report.known;
        return;
    }
    if (into_.before.is_in_force(withdrawal.of)) into_.report.withdrawn.push_back({withdrawal.of, withdrawal.reason});
    into_.change.put(withdrawal);
}

// Theirs and ours that stand beside each other and decide differently.
void MergeSink::report_rulings() {
    for (const auto& [id, theirs] : new_rulings_) {
        const auto claim = into_.before.find_claim(id);
        if (!claim) continue;
        std::vector<RulingRow> rows = into_.before.rulings(*claim);
        const std::size_t ours = rows.size();
        std::set<ContentId> of_ours;
        for (std::size_t i = 0; i < ours; ++i) of_ours.insert(rows[i].id);
        rows.insert(rows.end(), theirs.begin(), theirs.end());
        std::erase_if(rows, [this](const RulingRow& row) { return into_.change.turns_of(row.id) % 2 == 0; });
        std::vector<RankedRuling> standing = ranked_rulings(std::move(rows));
        std::erase_if(standing, [](const RankedRuling& one) { return one.is_overruled; });
        for (const RankedRuling& mine : standing)
            for (const RankedRuling& other : standing)
                if (of_ours.count(mine.row.id) && !of_ours.count(other.row.id) && mine.row.decision != other.row.decision)
                    into_.report.rulings.push_back({id, mine.row.id, other.row.id});
    }
}

void MergeSink::finish() {
    if (rules_.any()) {
        add_counts();
        ChangeHead head;
        head.verb = "merge";
        head.author = into_.options.author;
        head.reason = "what follows from " + into_.name + " and this graph together";
        head.time = into_.options.time;
        into_.change.follow_with(head);
        rules_.finish(into_.before, [this](const Record& record) {
            const ContentId id = std::holds_alternative<Claim>(record) ? id_of(std::get<Claim>(record)) : id_of(std::get<Argument>(record));
            if (into_.change.turns_of(id) == 0) into_.change.put(record);  // not what somebody has withdrawn
        });
    }
    add_counts();
    into_.report.counts = added_;
    report_rulings();
    for (const ContentId& id : maybe_still_withdrawn_)
        if (turns_[id] % 2 == 1 && into_.change.turns_of(id) % 2 == 0) into_.report.still_withdrawn.push_back(id);
}

}  // namespace saggar
