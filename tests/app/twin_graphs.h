// Several graphs beside plain in-memory twins, driven by the same operations: load, note, withdraw, settle, same, merge.
//
// A twin keeps, for every entry, what was put and withdrawn, and counts turns in a map; it knows nothing of keys, spans or
// snapshots. Slow and obvious; for tests only.
#pragma once

#include <map>
#include <memory>
#include <random>
#include <set>
#include <string>
#include <vector>

#include "importers/merge/merge.h"
#include "kg/store/store.h"
#include "kg/weigh/weigher.h"
#include "tests/app/twin_records.h"
#include "tests/kg/store/temporary_folder.h"

namespace saggar::testing {

// What a plain twin knows at one entry.
struct PlainState {
    std::map<ContentId, Record> records;         // ever put
    std::map<ContentId, std::uint64_t> turns;    // put and withdrawn so often; odd: in force
    std::map<ContentId, std::uint64_t> put_at;   // the first put, counted over all operations
    bool in_force(const ContentId& id) const;
    // In force, and of readings, arguments and rulings: the claims they name are so too.
    bool is_visible(const ContentId& id) const;
    std::set<ContentId> visible() const;
};

struct PlainOperation {
    ContentId id;
    bool is_put = true;
};

struct PlainTwin {
    std::vector<std::vector<PlainOperation>> entries;  // [0] is the start, [1] the sources
    std::vector<PlainState> states;                    // after each entry
    std::map<ContentId, std::set<std::string>> recorders;
    std::uint64_t clock = 0;
    const PlainState& now() const { return states.back(); }
    void write(const std::vector<std::pair<ContentId, std::optional<Record>>>& operations);  // nothing: a withdrawal
    void merge(const PlainTwin& theirs);

private:
    void add_entry(PlainState state, std::vector<PlainOperation> done);
};

// A store and its twin.
class TwinGraph {
public:
    explicit TwinGraph(std::string name);
    TwinGraph(const TwinGraph& other, std::string name);  // a copy of the folder and the twin

    void load(const std::vector<Record>& records, const std::string& verb = "load");
    void withdraw(const ContentId& id);
    MergeReport merge(const TwinGraph& other);
    // Takes back entries, in the store only.
    void undo(std::uint64_t from, std::uint64_t to);

    const Store& store() const { return *store_; }
    const PlainTwin& twin() const { return twin_; }
    const std::string& name() const { return name_; }

private:
    std::string name_;
    std::shared_ptr<TemporaryFolder> folder_;
    std::unique_ptr<Store> store_;
    PlainTwin twin_;
};

// All records with ids that a snapshot holds in force.
std::set<ContentId> visible_in(const Snapshot& graph);
// Every claim's masses, by content id.
std::map<ContentId, Masses> answers_of(const Snapshot& graph);
// The same from a graph made afresh of what the twin knows, in another order.
std::map<ContentId, Masses> answers_of(const PlainState& state);
// Every answer as one text, without the entry's number: masses, disputes, dates, comparisons, chains and what is found.
// `rounded`: all but the masses to nine digits, since the last bits of sums depend on the numbers that things have in a graph.
std::string all_answers(const Snapshot& graph, bool rounded);
// The same from a graph made afresh of what the twin knows.
std::string all_answers(const PlainState& state);
// Where two texts part; empty where they do not.
std::string difference(const std::string& one, const std::string& other);
// The ruling that stands first of every claim that has one.
std::map<ContentId, ContentId> standing_rulings(const Snapshot& graph);
std::map<ContentId, ContentId> standing_rulings(const PlainState& state);

}  // namespace saggar::testing
