// What is private, told three ways that must agree: by the marks of a store, by the filter of a ledger, and by a plain twin that
// only knows the rule as private_marks.h says it. The same records put in another order, in other changes, with some of them
// withdrawn afterwards, tell the same.
#include "kg/store/private_marks.h"

#include <rapidcheck.h>

#include <algorithm>
#include <catch2/catch.hpp>
#include <map>
#include <random>
#include <set>

#include "kg/store/ledger.h"
#include "kg/store/private_filter.h"
#include "kg/store/store.h"
#include "tests/kg/store/temporary_folder.h"

using namespace saggar;
using saggar::testing::TemporaryFolder;

namespace {

using Bundle = std::vector<Record>;  // put together
constexpr int claim_count = 7, thing_count = 7, source_count = 4;

Claim marked_claim(int n, bool is_private) {
    Claim claim;
    claim.subject = "line:t" + std::to_string(n % thing_count);
    claim.relation = "sold-by";
    claim.object = {Value::Type::entity, "company:t" + std::to_string(n * 5 % thing_count), ""};
    if (n == 4) claim.scope = "line:scope";
    claim.is_private = is_private;
    return claim;
}

Evidence marked_reading(int n, bool is_private) {
    Evidence evidence;
    evidence.claim = id_of(marked_claim(n % claim_count, false));
    evidence.source = "source:s" + std::to_string(n / 2 % source_count);
    evidence.quote = "words " + std::to_string(n);
    evidence.is_private = is_private;
    return evidence;
}

Bundle some_bundle(std::mt19937& random) {
    const auto below = [&](int bound) { return static_cast<int>(random() % static_cast<unsigned>(bound)); };
    const bool is_private = below(2) == 0;
    switch (below(6)) {
        case 0: {
            Entity thing;
            thing.key = (below(2) ? "line:t" : "company:t") + std::to_string(below(thing_count));
            if (below(2)) thing.label.text = "Label";
            thing.is_private = below(3) == 0;
            if (thing.label.text.empty() && !thing.is_private) thing.label.text = "Label";
            return {thing};
        }
        case 1: {
            Source source;
            source.key = "source:s" + std::to_string(below(source_count));
            source.is_private = is_private;
            if (below(2)) source.copied_from = {{"source:root", 1, 1}};
            return {source};
        }
        case 2: {
            Argument argument;
            const int conclusion = below(claim_count);
            argument.premises = {id_of(marked_claim((conclusion + 1 + below(claim_count - 1)) % claim_count, false))};
            argument.conclusion = id_of(marked_claim(conclusion, false));
            argument.reason = "reason " + std::to_string(below(3));
            argument.is_private = is_private;
            return {argument};
        }
        case 3: {
            Listing list;
            list.source = "source:s" + std::to_string(below(source_count));
            list.subject = "line:t" + std::to_string(below(thing_count));
            list.relation = "sold-by";
            list.is_private = is_private;
            return {list};
        }
        default: {
            const int n = below(2 * claim_count);
            return {marked_claim(n % claim_count, is_private), marked_reading(n, is_private)};
        }
    }
}

// The rule in plain words.
class PlainRule {
public:
    explicit PlainRule(const std::vector<Bundle>& bundles) {
        for (const Bundle& bundle : bundles)
            for (const Record& record : bundle) std::visit([this](const auto& one) { note(one); }, record);
        for (bool again = true; again;) {
            again = false;
            for (const auto& [id, claim] : claims_)
                if (!open_.count(id) && is_open(id, claim)) again = open_.insert(id).second;
        }
    }
    bool hides(const ContentId& claim) const { return !open_.count(claim); }
    bool hides(const Evidence& one) const { return !open_readings_.count(id_of(one)) || marked_.count(one.source) || hides(one.claim); }
    bool hides(const Argument& one) const {
        return !open_arguments_.count(id_of(one)) || std::any_of(one.premises.begin(), one.premises.end(), [this](const ContentId& id) { return hides(id); });
    }
    bool hides(const Listing& one) const { return !open_lists_.count(id_of(one)) || marked_.count(one.source) || marked_.count(one.subject); }
    bool hides(const std::string& key) const {
        if (marked_.count(key)) return true;
        if (described_.count(key)) return false;
        std::set<std::string> named, openly;
        const auto name = [&](const std::string& other, bool open) {
            named.insert(other);
            if (open) openly.insert(other);
        };
        for (const auto& [id, claim] : claims_)
            for (const std::string& other : {claim.subject, claim.object.text, claim.scope}) name(other, !hides(id));
        for (const auto& [id, one] : readings_) name(one.source, !hides(one));
        for (const auto& [id, one] : lists_)
            for (const std::string& other : {one.source, one.subject}) name(other, !hides(one));
        for (const auto& [source, root] : copies_) name(root, !marked_.count(source));
        return named.count(key) && !openly.count(key);
    }
    std::set<std::string> keys() const {
        std::set<std::string> all = marked_;
        all.insert(described_.begin(), described_.end());
        for (const auto& [id, claim] : claims_)
            for (const std::string& key : {claim.subject, claim.object.text, claim.scope})
                if (!key.empty()) all.insert(key);
        for (const auto& [id, one] : readings_) all.insert(one.source);
        for (const auto& [id, one] : lists_) all.insert({one.source, one.subject});
        for (const auto& copy : copies_) all.insert(copy.second);
        return all;
    }
    const std::map<ContentId, Evidence>& readings() const { return readings_; }
    const std::map<ContentId, Argument>& arguments() const { return arguments_; }
    const std::map<ContentId, Listing>& lists() const { return lists_; }

private:
    bool is_open(const ContentId& id, const Claim& claim) const {
        if (!unmarked_.count(id) || marked_.count(claim.subject) || marked_.count(claim.object.text) || marked_.count(claim.scope)) return false;
        bool spoken_of = false;
        for (const auto& [reading, one] : readings_) {
            if (one.claim != id) continue;
            spoken_of = true;
            if (open_readings_.count(reading) && !marked_.count(one.source)) return true;
        }
        for (const auto& [argument, one] : arguments_) {
            if (one.conclusion != id) continue;
            spoken_of = true;
            if (!hides(one)) return true;
        }
        return !spoken_of;
    }
    void note(const Entity& one) {
        if (one.is_private) marked_.insert(one.key);
        if (!one.label.text.empty()) described_.insert(one.key);
    }
    void note(const Source& one) {
        if (one.is_private) marked_.insert(one.key);
        described_.insert(one.key);
        for (const Copy& copy : one.copied_from) copies_.insert({one.key, copy.of});
    }
    void note(const Claim& one) {
        claims_.emplace(id_of(one), one);
        if (!one.is_private) unmarked_.insert(id_of(one));
    }
    void note(const Evidence& one) {
        readings_.emplace(id_of(one), one);
        if (!one.is_private) open_readings_.insert(id_of(one));
    }
    void note(const Argument& one) {
        arguments_.emplace(id_of(one), one);
        if (!one.is_private) open_arguments_.insert(id_of(one));
    }
    void note(const Listing& one) {
        lists_.emplace(id_of(one), one);
        if (!one.is_private) open_lists_.insert(id_of(one));
    }
    void note(const Ruling&) {}
    void note(const Withdrawal&) {}

    std::set<std::string> marked_, described_;
    std::set<std::pair<std::string, std::string>> copies_;
    std::map<ContentId, Claim> claims_;
    std::map<ContentId, Evidence> readings_;
    std::map<ContentId, Argument> arguments_;
    std::map<ContentId, Listing> lists_;
    std::set<ContentId> unmarked_, open_readings_, open_arguments_, open_lists_, open_;
};

ChangeHead head() {
    ChangeHead head;
    head.verb = "load";
    head.time = "2026-01-02T00:00:00Z";
    return head;
}

// What the filter lets out of the whole ledger.
class Passed final : public LedgerVisitor {
public:
    explicit Passed(const Snapshot& graph) {
        notes_ = true;
        read_all_records(graph, *this);
        notes_ = false;
        read_ledger(graph, 1, graph.entry(), *this);
    }
    void entry(const Entry&) override {}
    void document(const std::string&, const std::string&) override {}
    void record(const Record& record) override {
        if (notes_) return filter_.note(record);
        if (!filter_.pass(record)) return;
        std::visit(
            [this](const auto& one) {
                using One = std::decay_t<decltype(one)>;
                if constexpr (!std::is_same_v<One, Entity> && !std::is_same_v<One, Source> && !std::is_same_v<One, Withdrawal>) ids.insert(id_of(one));
            },
            record);
    }
    std::set<ContentId> ids;

private:
    PrivateFilter filter_;
    bool notes_ = false;
};

}  // namespace

TEST_CASE("marks, filter and rule agree on what is private, whatever the order of loads", "[private]") {
    CHECK(rc::check([] {
        std::mt19937 random(*rc::gen::arbitrary<unsigned>());
        std::vector<Bundle> base(1), bundles;
        for (int n = 0; n < claim_count; ++n) base.front().push_back(marked_claim(n, random() % 3 != 0));
        for (int i = *rc::gen::inRange(1, 14); i > 0; --i) bundles.push_back(some_bundle(random));
        std::vector<Bundle> all = base;
        all.insert(all.end(), bundles.begin(), bundles.end());
        const PlainRule rule(all);
        for (int order = 0; order < 3; ++order) {
            TemporaryFolder folder;
            Store store = Store::create(folder.path() / "g", {"", "", "tester", "2026-01-01T00:00:00Z"});
            const auto put = [&](const std::vector<Bundle>& some) {
                Change change = store.begin(head());
                for (const Bundle& bundle : some)
                    for (const Record& record : bundle) change.put(record);
                change.commit();
            };
            put(base);
            std::shuffle(bundles.begin(), bundles.end(), random);
            for (std::size_t at = 0; at < bundles.size();) {
                const std::size_t until = std::min(bundles.size(), at + 1 + random() % 5);
                put({bundles.begin() + static_cast<std::ptrdiff_t>(at), bundles.begin() + static_cast<std::ptrdiff_t>(until)});
                at = until;
            }
            Change change = store.begin(head());
            for (const auto& [id, one] : rule.readings())
                if (random() % 3 == 0) change.put(Withdrawal{id, "reason"});
            for (int n = 0; n < claim_count; ++n)
                if (random() % 4 == 0) change.put(Withdrawal{id_of(marked_claim(n, false)), "reason"});
            change.commit();
            const auto graph = store.snapshot(), early = store.snapshot(2);
            PrivateMarks marks(*graph), early_marks(*early);
            const Passed passed(*graph);
            const auto agree = [&](const ContentId& id, bool hidden) {
                RC_ASSERT(marks.is_hidden(id) == hidden);
                RC_ASSERT(early_marks.is_hidden(id) == hidden);
                RC_ASSERT((passed.ids.count(id) == 0) == hidden);
            };
            for (int n = 0; n < claim_count; ++n) agree(id_of(marked_claim(n, false)), rule.hides(id_of(marked_claim(n, false))));
            for (const auto& [id, one] : rule.readings()) agree(id, rule.hides(one));
            for (const auto& [id, one] : rule.lists()) agree(id, rule.hides(one));
            for (const auto& [id, one] : rule.arguments()) {
                const bool hidden = rule.hides(one) || rule.hides(one.conclusion);
                agree(id, hidden);
            }
            for (const std::string& key : rule.keys()) RC_ASSERT(marks.is_hidden(*graph->find(key)) == rule.hides(key));
        }
    }));
}
