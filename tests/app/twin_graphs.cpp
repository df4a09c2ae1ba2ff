#include "tests/app/twin_graphs.h"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <sstream>
#include <tuple>

#include "kg/store/ruling_order.h"
#include "kg/store/undo.h"
#include "queries/dating_json.h"
#include "queries/disputes_json.h"
#include "kg/weigh/profile.h"
#include "queries/compare_json.h"
#include "queries/disputes.h"
#include "queries/identify_json.h"
#include "queries/find.h"
#include "queries/privacy.h"
#include "queries/run_relation.h"
#include "queries/trace_json.h"

namespace saggar::testing {
namespace {

namespace fs = std::filesystem;

ContentId id_of_record(const Record& record) {
    return std::visit(
        [](const auto& one) -> ContentId {
            using One = std::decay_t<decltype(one)>;
            if constexpr (std::is_same_v<One, Entity> || std::is_same_v<One, Source> || std::is_same_v<One, Withdrawal>) return {};
            else return id_of(one);
        },
        record);
}

ChangeHead head_of(const std::string& verb, const std::string& author) {
    ChangeHead head;
    head.verb = verb;
    head.author = author;
    head.time = "2026-01-02T00:00:00Z";
    return head;
}

}  // namespace

bool PlainState::in_force(const ContentId& id) const {
    const auto found = turns.find(id);
    return found != turns.end() && found->second % 2 == 1;
}

bool PlainState::is_visible(const ContentId& id) const {
    if (!in_force(id)) return false;
    const Record& record = records.at(id);
    if (const auto* evidence = std::get_if<Evidence>(&record)) return in_force(evidence->claim);
    return true;
}

std::set<ContentId> PlainState::visible() const {
    std::set<ContentId> all;
    for (const auto& one : records)
        if (is_visible(one.first)) all.insert(one.first);
    return all;
}

void PlainTwin::add_entry(PlainState state, std::vector<PlainOperation> done) {
    entries.push_back(std::move(done));
    states.push_back(std::move(state));
}

void PlainTwin::write(const std::vector<std::pair<ContentId, std::optional<Record>>>& operations) {
    PlainState state = now();
    std::vector<PlainOperation> done;
    for (const auto& [id, record] : operations) {
        if (record.has_value() == state.in_force(id)) continue;
        if (record) {
            state.records.emplace(id, *record);
            state.put_at.emplace(id, ++clock);
            if (const auto* evidence = std::get_if<Evidence>(&*record)) recorders[id] = {evidence->recorded_by};
        }
        ++state.turns[id];
        done.push_back({id, record.has_value()});
    }
    if (!done.empty()) add_entry(std::move(state), std::move(done));
}

void PlainTwin::merge(const PlainTwin& theirs) {
    std::map<ContentId, std::uint64_t> told;
    for (std::size_t i = 1; i < theirs.entries.size(); ++i) {
        PlainState state = now();
        std::vector<PlainOperation> done;
        bool named_more = false;  // who recorded a reading too
        for (const PlainOperation& one : theirs.entries[i]) {
            const auto by = theirs.recorders.find(one.id);
            if (++told[one.id] <= state.turns[one.id]) {
                if (one.is_put && by != theirs.recorders.end())
                    for (const std::string& name : by->second) named_more |= !name.empty() && recorders[one.id].insert(name).second;
                continue;
            }
            if (one.is_put) {
                state.records.emplace(one.id, theirs.now().records.at(one.id));
                state.put_at.emplace(one.id, ++clock);
                if (by != theirs.recorders.end()) recorders[one.id] = by->second;
            }
            ++state.turns[one.id];
            done.push_back(one);
        }
        if (!done.empty() || named_more) add_entry(std::move(state), std::move(done));
    }
}

TwinGraph::TwinGraph(std::string name) : name_(std::move(name)), folder_(std::make_shared<TemporaryFolder>()) {
    store_ = std::make_unique<Store>(Store::create(folder_->path() / name_, {"", "", name_, "2026-01-01T00:00:00Z"}));
    Change change = store_->begin(head_of("load", name_));
    for (const Source& source : all_sources()) change.put(source);
    change.commit();
    twin_.entries.resize(2);
    twin_.states.resize(2);
}

TwinGraph::TwinGraph(const TwinGraph& other, std::string name)
    : name_(std::move(name)), folder_(std::make_shared<TemporaryFolder>()), twin_(other.twin_) {
    fs::copy(other.store_->folder(), folder_->path() / name_, fs::copy_options::recursive);
    store_ = std::make_unique<Store>(Store::open(folder_->path() / name_, Access::write));
}

void TwinGraph::load(const std::vector<Record>& records, const std::string& verb) {
    Change change = store_->begin(head_of(verb, name_));
    std::vector<std::pair<ContentId, std::optional<Record>>> operations;
    for (const Record& record : records) {
        change.put(record);
        operations.emplace_back(id_of_record(record), record);
    }
    change.commit();
    twin_.write(operations);
}

void TwinGraph::withdraw(const ContentId& id) {
    Change change = store_->begin(head_of("withdraw", name_));
    change.put(Withdrawal{id, "taken back by " + name_});
    change.commit();
    twin_.write({{id, std::nullopt}});
}

MergeReport TwinGraph::merge(const TwinGraph& other) {
    MergeOptions options;
    options.author = name_;
    options.time = "2026-01-03T00:00:00Z";
    const auto theirs = TheirGraph::open(other.store_->folder());
    MergeReport report = saggar::merge(*store_, *theirs, options);
    twin_.merge(other.twin_);
    return report;
}

void TwinGraph::undo(std::uint64_t from, std::uint64_t to) {
    Change change = store_->begin(head_of("withdraw", name_));
    undo_entries(*store_, change, from, to, "not so");
    change.commit();
}

std::set<ContentId> visible_in(const Snapshot& graph) {
    std::set<ContentId> all;
    graph.each_claim([&](const ClaimWithEvidence& claim) {
        all.insert(claim.claim.id);
        for (const EvidenceRow& row : claim.evidence) all.insert(row.id);
    });
    graph.each_argument([&](const ArgumentRow& row) { all.insert(row.id); });
    graph.each_ruling([&](const RulingRow& row) { all.insert(row.id); });
    return all;
}

std::map<ContentId, Masses> answers_of(const Snapshot& graph) {
    Weigher weigher(graph);
    std::map<ContentId, Masses> all;
    graph.each_claim([&](const ClaimWithEvidence& claim) { all[claim.claim.id] = weigher.masses(claim.claim.ref); });
    return all;
}

namespace {

// A graph made of what the twin knows, in another order than it came.
Store made_afresh(const PlainState& state, const TemporaryFolder& folder) {
    Store store = Store::create(folder.path() / "afresh", {"", "", "", "2026-01-01T00:00:00Z"});
    {
        Change change = store.begin(head_of("load", ""));
        const auto described = all_sources();
        for (auto source = described.rbegin(); source != described.rend(); ++source) change.put(*source);
        for (auto one = state.records.rbegin(); one != state.records.rend(); ++one)
            if (std::holds_alternative<Claim>(one->second) && state.is_visible(one->first)) change.put(one->second);
        change.commit();
    }
    const auto named = [&](const Record& record) {  // arguments and rulings about withdrawn claims say nothing
        if (const auto* argument = std::get_if<Argument>(&record)) {
            return state.in_force(argument->conclusion) && std::all_of(argument->premises.begin(), argument->premises.end(),
                                                                       [&](const ContentId& id) { return state.in_force(id); });
        }
        if (const auto* ruling = std::get_if<Ruling>(&record)) return state.in_force(ruling->claim);
        return true;
    };
    std::map<std::uint64_t, ContentId> rulings;  // the order in which they were made
    Change change = store.begin(head_of("load", ""));
    for (const auto& [id, record] : state.records) {
        if (std::holds_alternative<Claim>(record) || !state.is_visible(id) || !named(record)) continue;
        if (std::holds_alternative<Ruling>(record)) rulings[state.put_at.at(id)] = id;
        else change.put(record);
    }
    change.commit();
    for (const auto& one : rulings) {
        Change next = store.begin(head_of("settle", ""));
        next.put(state.records.at(one.second));
        next.commit();
    }
    return store;
}

}  // namespace

std::map<ContentId, Masses> answers_of(const PlainState& state) {
    TemporaryFolder folder;
    return answers_of(*made_afresh(state, folder).snapshot());
}

std::string all_answers(const PlainState& state) {
    TemporaryFolder folder;
    return all_answers(*made_afresh(state, folder).snapshot(), true);
}

namespace {

// Readings and the like stand in the order in which they were taken down, which is no answer; nor is who took them down too, or
// which of several equally contradictory claims is named.
void make_plain(nlohmann::json& one, bool rounded) {
    if (rounded && one.is_number_float()) one = fmt::format("{:.9f}", one.get<double>() + 0.0);
    for (auto part = one.begin(); part != one.end() && one.is_structured(); ++part) {
        make_plain(*part, rounded);
        if (!one.is_object()) continue;
        if (part.key() == "recorded_by" || part.key() == "worst") *part = "";
        if (part->is_array() && part.key() != "paths" && part.key() != "steps" && part.key() != "disputes" && part.key() != "years")
            std::sort(part->begin(), part->end(), [](const nlohmann::json& a, const nlohmann::json& b) { return a.dump() < b.dump(); });
    }
}

}  // namespace

std::string all_answers(const Snapshot& graph, bool rounded) {
    std::string all;
    const auto add = [&](nlohmann::json one) {
        one.erase("entry");
        make_plain(one, rounded);
        all += one.dump() + "\n";
    };
    for (const auto& [id, masses] : answers_of(graph))
        all += fmt::format("{} {} {} {} {}\n", id.full(), masses.for_only, masses.against_only, masses.both, masses.neither);
    Weigher weigher(graph);
    Privacy privacy(graph, true);
    DisputesQuestion about;
    about.most = 1000;
    add(to_json(disputes(graph, weigher, about), graph, privacy));
    const TimeRules rules = TimeRules::of(graph.vocabulary());
    std::vector<EntityId> known;
    for (int i = 0; i < twin_shapes; ++i)
        if (const auto thing = graph.find("shape:g" + std::to_string(i)); thing && !graph.claims_of(*thing).empty()) known.push_back(*thing);
    for (const EntityId thing : known) {
        DatingQuestion date;
        date.thing = thing;
        add(to_json(date_thing(graph, weigher, rules, date), date_years(graph, weigher, rules, date), graph));
        add(to_json(relate_runs(graph, weigher, rules, known.front(), thing, DatingQuestion{}), graph));
        if (thing != known.front()) {
            CompareQuestion both;
            both.things = {known.front(), thing};
            add(to_json(compare(graph, weigher, both), graph, true));
        }
        TraceQuestion chains;
        chains.from = thing;
        chains.to_kind = "person";
        chains.limits.best = 3;
        add(to_json(trace(graph, weigher, chains), graph, true));
    }
    if (const auto person = graph.find("person:p1"); person && !graph.claims_about(*person).empty()) {
        IdentifyQuestion piece;
        piece.kind = "shape";
        Sighting seen;
        seen.relation = "modelled-by";
        seen.object = *person;
        piece.sightings.push_back(seen);
        add(to_json(identify(graph, weigher, piece), piece, graph, weigher.profile(), 1000));
    }
    for (const FindHit& hit : find(graph, "words").hits) all += graph.key_of(hit.entity) + " " + hit.field + "\n";
    return all;
}

std::string difference(const std::string& one, const std::string& other) {
    std::istringstream a(one), b(other);
    for (std::string line, beside;;) {
        const bool more = !std::getline(a, line).fail(), also = !std::getline(b, beside).fail();
        if (!more && !also) return {};
        if (!more) line.clear();
        if (!also) beside.clear();
        if (more != also || line != beside) {
            std::size_t at = 0;
            while (at < std::min(line.size(), beside.size()) && line[at] == beside[at]) ++at;
            const std::size_t from = at < 300 ? 0 : at - 300;
            return line.substr(from, 700) + "\n  and not\n" + beside.substr(from, 700);
        }
    }
}

std::map<ContentId, ContentId> standing_rulings(const Snapshot& graph) {
    std::map<ContentId, ContentId> all;
    graph.each_claim([&](const ClaimWithEvidence& claim) {
        const auto rulings = ranked_rulings(graph.rulings(claim.claim.ref));
        if (!rulings.empty()) all[claim.claim.id] = rulings.front().row.id;
    });
    return all;
}

// Each person's last word on a claim; of two people's, the later one, and of two on one day the one that does not accept.
std::map<ContentId, ContentId> standing_rulings(const PlainState& state) {
    std::map<ContentId, std::map<std::string, const Ruling*>> last_words;
    for (const auto& [id, record] : state.records) {
        const auto* ruling = std::get_if<Ruling>(&record);
        if (!ruling || !state.in_force(id) || !state.in_force(ruling->claim)) continue;
        const Ruling*& known = last_words[ruling->claim][ruling->decided_by];
        if (!known || known->decided_on < ruling->decided_on) known = ruling;
    }
    std::map<ContentId, ContentId> all;
    for (const auto& [claim, people] : last_words) {
        const auto rank = [](const Ruling& one) {
            return std::make_tuple(one.decided_on, one.decision != Ruling::Decision::accepted);
        };
        const Ruling* best = nullptr;
        for (const auto& person : people) {
            const Ruling* one = person.second;
            if (!best || rank(*best) < rank(*one) || (rank(*best) == rank(*one) && id_of(*one) < id_of(*best))) best = one;
        }
        all[claim] = id_of(*best);
    }
    return all;
}

}  // namespace saggar::testing
