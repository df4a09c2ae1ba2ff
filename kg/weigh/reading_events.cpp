#include "kg/weigh/reading_events.h"

#include <algorithm>
#include <set>

namespace saggar {

namespace {

using weighing::Event;

constexpr std::size_t deepest_copying = 64;  // copies of copies; beyond, a reading is taken as its source's own

}  // namespace

ReadingEvents::ReadingEvents(const Case& question, weighing::Lineage& lineage, std::vector<ChanceTerm>& terms)
    : case_(question), lineage_(lineage), terms_(terms) {
    for (CaseIndex i = 0; i < question.readings.size(); ++i) {
        const CaseReading& reading = question.readings[i];
        if (!reading.no_basis) said_[{reading.source, reading.claim, reading.against}].push_back(i);
    }
    find_sources_met_once();
}

// A source met once needs no chance of its own beside that of its reading (exact: the two are one conjunction). A source
// that may have been copied on a point where it was not entered is met there too.
void ReadingEvents::find_sources_met_once() {
    std::vector<std::set<ContentId>> met(case_.sources.size());
    for (const CaseReading& reading : case_.readings) {
        if (!reading.no_basis) met[reading.source].insert(reading.id);
    }
    for (const auto& records : met) met_once_.push_back(records.size() == 1);
    for (CaseIndex index = 0; index < case_.readings.size(); ++index) {
        const CaseReading& reading = case_.readings[index];
        if (reading.no_basis || !may_be_copy(index)) continue;
        std::vector<CaseIndex> copiers{reading.source};
        for (std::size_t i = 0; i < copiers.size() && i < deepest_copying; ++i) {  // grows along copies of copies
            for (const CopyPath& path : copy_paths({copiers[i], reading.claim, reading.against})) {
                if (path.entered) continue;
                met_once_[path.source] = 0;
                copiers.push_back(path.source);
            }
        }
    }
}

const ReadingEvents::Readings& ReadingEvents::said(CaseIndex source, CaseIndex claim, bool against) const {
    static const Readings nothing;
    const auto found = said_.find({source, claim, against});
    return found == said_.end() ? nothing : found->second;
}

Event ReadingEvents::add(ChanceTerm term) {
    terms_.push_back(term);
    return lineage_.chance(0, static_cast<std::uint32_t>(terms_.size() - 1));
}

Event ReadingEvents::fixed(double chance) {
    if (chance >= 1) return Event::always();
    if (chance <= 0) return Event::never();
    return add({ChanceTerm::Kind::fixed, 0, chance});
}

Event ReadingEvents::shared(std::map<CaseIndex, Event>& known, ChanceTerm term) {
    const auto found = known.find(term.index);
    if (found != known.end()) return found->second;
    return known[term.index] = add(term);
}

Event ReadingEvents::family_sound(CaseIndex source) {
    const CaseIndex family = case_.family_of[source];
    return family == Case::no_family ? Event::always() : shared(families_, {ChanceTerm::Kind::family, family, 1});
}

Event ReadingEvents::source_sound(CaseIndex source) {
    return met_once_[source] ? Event::always() : shared(sources_, {ChanceTerm::Kind::source, source, 1});
}

Event ReadingEvents::chance_of_reading(CaseIndex source, double share) {
    return add({met_once_[source] ? ChanceTerm::Kind::alone : ChanceTerm::Kind::reading, source, share});
}

// A list is read once, whatever it leaves out; whether it is complete on a point is decided point by point.
Event ReadingEvents::well_read(CaseIndex index) {
    const auto found = well_read_.find(index);
    if (found != well_read_.end()) return found->second;
    const CaseReading& reading = case_.readings[index];
    Event event;
    if (!reading.is_list) {
        event = chance_of_reading(reading.source, reading.share);
    } else {
        const auto list = lists_.find(reading.id);
        const Event list_read = list != lists_.end() ? list->second : chance_of_reading(reading.source, 1);
        lists_[reading.id] = list_read;
        event = lineage_.both(list_read, fixed(reading.share));
    }
    return well_read_[index] = event;
}

Event ReadingEvents::own(CaseIndex index) {
    const CaseIndex source = case_.readings[index].source;
    const Event family = family_sound(source), sound = source_sound(source);
    const Event parts[] = {family, sound, well_read(index)};
    return lineage_.all_of(parts);
}

// A reading that is nothing but its source's own.
bool ReadingEvents::plain(CaseIndex index) const {
    const CaseReading& reading = case_.readings[index];
    return reading.taken_back_by.empty() && !may_be_copy(index);
}

bool ReadingEvents::may_be_copy(CaseIndex index) const {
    const CaseReading& reading = case_.readings[index];
    return !reading.takes_back && !case_.sources[reading.source].copies.empty();
}

// Where a statement may have been copied from, entered roots first, then the likelier ones. A source that says the
// opposite is left out.
std::vector<ReadingEvents::CopyPath> ReadingEvents::copy_paths(const Statement& statement) const {
    const auto [source, claim, against] = statement;
    std::vector<CopyPath> paths;
    for (const CopyTerms& copy : case_.sources[source].copies) {
        const auto found = case_.source_of.find(copy.of);
        if (found == case_.source_of.end()) continue;
        const bool entered = !said(found->second, claim, against).empty();
        const bool opposite = !said(found->second, claim, !against).empty();
        if (entered || !opposite) paths.push_back({&copy, found->second, entered});
    }
    std::stable_sort(paths.begin(), paths.end(), [](const CopyPath& a, const CopyPath& b) {
        return std::tuple(!a.entered, -a.terms->chance) < std::tuple(!b.entered, -b.terms->chance);
    });
    return paths;
}

Event ReadingEvents::entered_root(const Statement& root) {
    const auto& [source, claim, against] = root;
    std::vector<Event> readings;
    for (const CaseIndex reading : said(source, claim, against)) readings.push_back(counted(reading));
    return lineage_.any_of(readings);
}

Event ReadingEvents::unentered_root(const Statement& root) {
    const auto found = unentered_.find(root);
    if (found != unentered_.end()) return found->second;
    const CaseIndex source = std::get<0>(root);
    if (case_.sources[source].no_basis) return unentered_[root] = Event::never();
    const Event family = family_sound(source), sound = source_sound(source);
    const Event parts[] = {family, sound, chance_of_reading(source, 1)};
    unentered_[root] = lineage_.all_of(parts);  // stands until the copies below it are known: ends circles
    const Event event = through_copies(root, unentered_[root], 1);
    return unentered_[root] = event;
}

// Copied from the first of its roots, or from the next, or its own. `share`: how much of the root the copy carries.
Event ReadingEvents::through_copies(const Statement& statement, Event own_event, double share) {
    if (depth_ >= deepest_copying) return own_event;
    ++depth_;
    std::vector<Event> ways;
    Event not_yet = Event::always();
    for (const CopyPath& path : copy_paths(statement)) {
        const Statement root{path.source, std::get<1>(statement), std::get<2>(statement)};
        const Event root_good = path.entered ? entered_root(root) : unentered_root(root);
        const auto pair = std::pair(std::get<0>(statement), path.source);
        if (copied_.count(pair) == 0) copied_[pair] = fixed(path.terms->chance);
        const Event copied = copied_[pair];
        const Event parts[] = {not_yet, copied, root_good, fixed(path.terms->fidelity * share)};
        ways.push_back(lineage_.all_of(parts));
        not_yet = lineage_.both(not_yet, !copied);
        if (not_yet == Event::never()) break;
    }
    --depth_;
    if (not_yet != Event::never()) ways.push_back(lineage_.both(not_yet, own_event));
    return lineage_.any_of(ways);
}

Event ReadingEvents::good(CaseIndex index) {
    const auto found = good_.find(index);
    if (found != good_.end()) return found->second;
    const CaseReading& reading = case_.readings[index];
    if (reading.no_basis) return good_[index] = Event::never();
    if (!may_be_copy(index)) return good_[index] = own(index);
    const Statement statement{reading.source, reading.claim, reading.against};
    const auto paths = copy_paths(statement);
    const bool never_own = !paths.empty() && paths.front().terms->chance >= 1;
    const Event event = through_copies(statement, never_own ? Event::never() : own(index), reading.share);
    return good_[index] = event;
}

Event ReadingEvents::counted(CaseIndex index) {
    const auto found = counted_.find(index);
    if (found != counted_.end()) return found->second;
    std::vector<Event> parts{good(index)};
    for (const CaseIndex later : case_.readings[index].taken_back_by) parts.push_back(!good(later));
    return counted_[index] = lineage_.all_of(parts);
}

Event ReadingEvents::direct(CaseIndex claim, bool against) {
    std::map<CaseIndex, std::map<CaseIndex, Readings>> plain_ones;  // by family, then source
    std::vector<Event> ways;
    for (const CaseIndex index : case_.claims[claim].readings) {
        const CaseReading& reading = case_.readings[index];
        if (reading.against != against || reading.no_basis) continue;
        if (plain(index)) {
            plain_ones[case_.family_of[reading.source]][reading.source].push_back(index);
        } else if (!adds_nothing(index)) {
            ways.push_back(counted(index));
        }
    }
    for (const auto& by_family : plain_ones) {
        const Event family = family_sound(by_family.second.begin()->first);
        std::vector<Event> members;
        for (const auto& by_source : by_family.second) members.push_back(any_of_source(by_source.first, by_source.second));
        if (by_family.first == Case::no_family) {
            ways.insert(ways.end(), members.begin(), members.end());
        } else {
            ways.push_back(lineage_.both(family, lineage_.any_of(members)));
        }
    }
    return lineage_.any_of(ways);
}

// The source is sound and one of its readings well read; the family is left to the caller.
Event ReadingEvents::any_of_source(CaseIndex source, const Readings& readings) {
    const Event sound = source_sound(source);
    std::vector<Event> read;
    for (const CaseIndex index : readings) read.push_back(well_read(index));
    return lineage_.both(sound, lineage_.any_of(read));
}

bool ReadingEvents::adds_nothing(CaseIndex index) const {
    const CaseReading& reading = case_.readings[index];
    if (!may_be_copy(index)) return false;
    const auto paths = copy_paths({reading.source, reading.claim, reading.against});
    return !paths.empty() && paths.front().entered && paths.front().terms->chance >= 1 && reading.taken_back_by.empty();
}

CaseIndex ReadingEvents::root_source(CaseIndex index) const {
    const CaseReading& reading = case_.readings[index];
    CaseIndex source = reading.source;
    if (!may_be_copy(index)) return source;
    for (std::size_t i = 0; i < deepest_copying; ++i) {
        const auto paths = copy_paths({source, reading.claim, reading.against});
        if (paths.empty() || paths.front().terms->chance < 1) break;
        source = paths.front().source;
    }
    return source;
}

}  // namespace saggar
