#include "tests/app/twin_graphs.h"

#include <algorithm>

#include "kg/store/undo.h"

namespace saggar::testing {
namespace {

namespace fs = std::filesystem;

constexpr int shapes = 3, people = 4, sources = 7;

ContentId id_of_record(const Record& record) {
    return std::visit(
        [](const auto& one) -> ContentId {
            using One = std::decay_t<decltype(one)>;
            if constexpr (std::is_same_v<One, Entity> || std::is_same_v<One, Source> || std::is_same_v<One, Withdrawal>) return {};
            else return id_of(one);
        },
        record);
}

std::vector<Source> all_sources() {
    std::vector<Source> all;
    for (int i = 0; i < sources; ++i) {
        Source source;
        source.key = "source:s" + std::to_string(i);
        source.reliability = .45 + .07 * i;
        if (i < 3) source.family = "house";
        if (i < 3) source.family_kind = "circle";
        if (i == 6) source.copied_from = {{"source:s5", .8, .9}};
        all.push_back(source);
    }
    return all;
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

std::map<ContentId, Masses> answers_of(const PlainState& state) {
    TemporaryFolder folder;
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
    return answers_of(*store.snapshot());
}

std::map<ContentId, ContentId> standing_rulings(const Snapshot& graph) {
    std::map<ContentId, ContentId> all;
    graph.each_claim([&](const ClaimWithEvidence& claim) {
        const auto rulings = graph.rulings(claim.claim.ref);
        const auto last = std::max_element(rulings.begin(), rulings.end(), [&](const RulingRow& a, const RulingRow& b) {
            return is_later(b, a);
        });
        if (last != rulings.end()) all[claim.claim.id] = last->id;
    });
    return all;
}

std::map<ContentId, ContentId> standing_rulings(const PlainState& state) {
    std::map<ContentId, ContentId> all;
    for (const auto& [id, record] : state.records) {
        const auto* ruling = std::get_if<Ruling>(&record);
        if (!ruling || !state.in_force(id) || !state.in_force(ruling->claim)) continue;
        const auto known = all.find(ruling->claim);
        if (known == all.end() || state.put_at.at(known->second) < state.put_at.at(id)) all[ruling->claim] = id;
    }
    return all;
}

Claim some_claim(int n) {
    Claim claim;
    claim.subject = "shape:g" + std::to_string(n % shapes);
    claim.relation = n % 2 ? "modelled-by" : "designed-by";
    claim.object = {Value::Type::entity, "person:p" + std::to_string(n / 2 % people), ""};
    return claim;
}

Evidence some_reading(int n, const std::string& by) {
    Evidence evidence;
    evidence.claim = id_of(some_claim(n % 24));
    evidence.source = "source:s" + std::to_string(n % sources);
    evidence.stance = n % 4 == 3 ? Stance::against : Stance::in_favour;
    evidence.at = "page=" + std::to_string(n / 24 % 3);
    if (n % 5 == 0) evidence.certainty = "probably";
    evidence.recorded_by = by;
    return evidence;
}

Argument some_argument(int n) {
    Argument argument;
    argument.premises = {id_of(some_claim(n % 24)), id_of(some_claim((n + 5) % 24))};
    std::sort(argument.premises.begin(), argument.premises.end());
    argument.premises.erase(std::unique(argument.premises.begin(), argument.premises.end()), argument.premises.end());
    argument.conclusion = id_of(some_claim((n + 7) % 24));
    argument.strength = .6;
    argument.reason = "who designs often models";
    return argument;
}

Ruling some_ruling(int n) {
    static constexpr Ruling::Decision decisions[] = {Ruling::Decision::accepted, Ruling::Decision::rejected, Ruling::Decision::left_open};
    return {id_of(some_claim(n % 24)), decisions[n % 3], "weighed " + std::to_string(n % 5), {}, "tester", "2026-01-02", false};
}

std::vector<Record> some_identity(int n) {
    const int one = n % people, other = (one + 1 + n / 4 % (people - 1)) % people;
    Claim claim;
    claim.subject = "person:p" + std::to_string(std::min(one, other));
    claim.relation = "same-as";
    claim.object = {Value::Type::entity, "person:p" + std::to_string(std::max(one, other)), ""};
    Evidence evidence;
    evidence.claim = id_of(claim);
    evidence.source = "source:s" + std::to_string(n % sources);
    const Ruling ruling{id_of(claim), n % 3 ? Ruling::Decision::accepted : Ruling::Decision::rejected, "hands", {}, "tester", "2026-01-02", false};
    return {claim, evidence, ruling};
}

}  // namespace saggar::testing
