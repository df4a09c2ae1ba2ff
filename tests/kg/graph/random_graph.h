// A seeded random graph in a store of its own, and its plain twin in std::map.
#pragma once

#include <fmt/format.h>

#include <map>
#include <random>
#include <set>
#include <vector>

#include "kg/store/store.h"
#include "tests/kg/store/temporary_folder.h"

namespace saggar::testing {

// Claims by subject and by object, as a std::map holds them; vertices by entity number.
struct MapGraph {
    struct Edge {
        std::uint64_t to;
        std::uint64_t claim;
        auto operator<=>(const Edge&) const = default;
    };
    std::map<std::uint64_t, std::set<Edge>> out;
    std::map<std::uint64_t, std::set<Edge>> in;
    std::size_t edges = 0;
};

class RandomGraph {
public:
    // Every entity is named, also those without a claim; some claims have text for an object, some are withdrawn again.
    RandomGraph(std::uint32_t seed, std::size_t entities, std::size_t claims, std::size_t bulk_above = 20'000)
        : store_(Store::create(folder_.path() / "g", {"", "", "tester", "2026-01-01T00:00:00Z"})) {
        std::mt19937 random(seed);
        ChangeHead head;
        head.verb = "load";
        head.time = "2026-01-02T00:00:00Z";
        head.bulk_above = bulk_above;
        Change change = store_.begin(head);
        for (std::size_t i = 0; i < entities; ++i) {
            Entity entity;
            entity.key = key(i);
            entity.label = {fmt::format("Line {}", i), "en"};
            change.put(entity);
        }
        std::vector<Claim> made;
        for (std::size_t i = 0; i < claims; ++i) {
            Claim claim;
            const std::size_t from = random() % entities;
            const std::size_t to = random() % entities;
            const std::size_t relation = random() % 4;
            claim.subject = key(from);
            claim.relation = fmt::format("r{}", relation);
            const bool literal = random() % 10 == 0;
            claim.object = literal ? Value{Value::Type::text, fmt::format("text {}", i), ""}
                                   : Value{Value::Type::entity, key(to), ""};
            change.put(claim);
            made.push_back(claim);
        }
        change.commit();
        entry_before_withdrawal_ = store_.last_entry();
        if (!made.empty()) {
            Change second = store_.begin(head);
            for (std::size_t i = 0; i < made.size(); i += 11) {
                if (second.has_claim(id_of(made[i]))) second.put(Withdrawal{id_of(made[i]), "a slip"});
            }
            second.commit();
        }
        snapshot_ = store_.snapshot();
        std::set<ContentId> gone;
        for (std::size_t i = 0; i < made.size(); i += 11) gone.insert(id_of(made[i]));
        for (const Claim& claim : made) {
            if (claim.object.type != Value::Type::entity) continue;
            const bool stays = gone.count(id_of(claim)) == 0;
            if (stays) add(twin, claim);
            add(twin_before, claim);
        }
    }

    static std::string key(std::size_t i) { return fmt::format("line:l{}", i); }
    const Snapshot& snapshot() const { return *snapshot_; }
    std::unique_ptr<Snapshot> snapshot_before() const { return store_.snapshot(entry_before_withdrawal_); }

    MapGraph twin;         // what is in force
    MapGraph twin_before;  // what was in force before the withdrawals

private:
    void add(MapGraph& graph, const Claim& claim) {
        const auto before = snapshot_before();
        const std::uint64_t from = before->need(claim.subject).value, to = before->need(claim.object.text).value;
        const std::uint64_t number = before->find_claim(claim)->number;
        if (graph.out[from].insert({to, number}).second) ++graph.edges;
        graph.in[to].insert({from, number});
    }

    TemporaryFolder folder_;
    Store store_;
    std::uint64_t entry_before_withdrawal_ = 0;
    std::unique_ptr<Snapshot> snapshot_;
};

}  // namespace saggar::testing
