#include "app/table_export.h"

#include <fmt/format.h>

#include <fstream>
#include <set>
#include <unordered_set>
#include <utility>
#include <vector>

#include "app/outgoing.h"
#include "importers/own_table_write.h"
#include "kg/model/fault.h"
#include "kg/model/vocabulary.h"
#include "kg/store/ledger.h"
#include "queries/privacy.h"

namespace saggar::app {
namespace {

namespace fs = std::filesystem;

// Rows in the order in which the records came into the graph, so that what a row names stands before it.
class RowWriter final : public LedgerVisitor {
public:
    RowWriter(const Snapshot& graph, bool with_private, std::ostream& entities, std::ostream& sources, std::ostream& claims)
        : graph_(graph), privacy_(graph, with_private), entities_(entities), sources_(sources), claims_(claims) {}

    void entry(const Entry&) override {}
    void document(const std::string&, const std::string&) override {}
    void record(const Record& record) override {
        std::visit([this](const auto& one) { put(one); }, record);
    }

    // Arguments come last: their premises must stand before them, wherever they got their evidence.
    void finish() {
        for (const auto& [claim, argument] : arguments_) {
            std::vector<std::string> premises;
            for (const ContentId& id : argument.premises) {
                const bool bare = bare_.count(id) != 0;
                const auto ref = bare ? graph_.find_claim(id) : std::nullopt;
                const auto row = ref ? graph_.claim(*ref) : std::nullopt;
                const auto words = row ? claim_in_words(graph_.to_record(row->claim)) : std::nullopt;
                if (!bare || words) premises.push_back(words.value_or(id.full()));
                if (words) bare_.erase(id);
            }
            if (premises.size() == argument.premises.size()) {
                claims_.put(claim, argument, premises);
            } else {
                ++lost_arguments_;
            }
        }
    }

    std::size_t lost_arguments() const { return lost_arguments_; }
    std::size_t rulings() const { return rulings_; }
    // Claims in force that no row speaks of.
    std::size_t bare_claims() const { return bare_.size(); }

private:
    // Of a thing that was described in several entries the last version is written, once.
    void put(const Entity& one) {
        if (!keys_.insert(one.key).second) return;
        const auto id = graph_.find(one.key);
        const auto now = id ? graph_.entity(*id) : std::nullopt;
        Entity bare;
        bare.key = one.key;
        if (now && *now != bare) entities_.put(*now);
    }
    void put(const Source& one) {
        if (!source_keys_.insert(one.key).second) return;
        const auto id = graph_.find(one.key);
        const auto now = id ? graph_.source(*id) : std::nullopt;
        if (now) sources_.put(privacy_.shown(*now));
    }
    void put(const Claim& one) {
        if (graph_.is_in_force(id_of(one)) && !spoken_of_.count(id_of(one))) bare_.insert(id_of(one));
    }
    void put(const Evidence& one) {
        if (const auto claim = claim_of(one.claim, id_of(one))) claims_.put(*claim, one);
    }
    void put(const Listing& one) {
        if (is_new(id_of(one))) claims_.put(one);
    }
    void put(const Argument& one) {
        // What a rule of the vocabulary concluded it concludes again.
        const auto claim = one.rule.empty() ? claim_of(one.conclusion, id_of(one)) : std::nullopt;
        if (claim) arguments_.emplace_back(*claim, one);
    }
    void put(const Ruling& one) {
        if (graph_.is_in_force(id_of(one))) ++rulings_;
    }
    void put(const Withdrawal&) {}

    bool is_new(const ContentId& id) { return graph_.is_in_force(id) && written_.insert(id).second; }

    // The claim that a record in force speaks of; nothing where there is no row to write.
    std::optional<Claim> claim_of(const ContentId& claim, const ContentId& record) {
        if (!is_new(record)) return std::nullopt;
        const auto ref = graph_.find_claim(claim);
        const auto row = ref ? graph_.claim(*ref) : std::nullopt;
        if (!row) return std::nullopt;
        spoken_of_.insert(claim);
        bare_.erase(claim);
        return graph_.to_record(row->claim);
    }

    const Snapshot& graph_;
    Privacy privacy_;
    EntityTableWriter entities_;
    SourceTableWriter sources_;
    ClaimTableWriter claims_;
    std::set<std::string> keys_;
    std::set<std::string> source_keys_;
    std::unordered_set<ContentId> written_;
    std::unordered_set<ContentId> spoken_of_;
    std::unordered_set<ContentId> bare_;
    std::vector<std::pair<Claim, Argument>> arguments_;
    std::size_t rulings_ = 0;
    std::size_t lost_arguments_ = 0;
};

void must_be_written(std::ofstream& out, const fs::path& path) {
    out.close();
    if (!out)
        throw StoreFault("cannot write " + path.string(),
                         "see that the folder can be written and that the disk is not full");
}

}  // namespace

void export_tables(const Call& call, const Snapshot& graph, const fs::path& target) {
    if (fs::exists(target) && (!fs::is_directory(target) || !fs::is_empty(target)))
        throw UsageFault(target.string() + " is not an empty folder", "name a folder that does not exist yet");
    std::error_code error;
    fs::create_directories(target, error);
    if (error) throw StoreFault("cannot make " + target.string(), "see that the folder above it can be written");
    const OwnTable tables[] = {OwnTable::entities, OwnTable::sources, OwnTable::claims};
    std::ofstream out[3];
    for (std::size_t i = 0; i < 3; ++i) out[i].open(target / own_table_file(tables[i]), std::ios::binary);
    RowWriter rows(graph, call.with_private, out[0], out[1], out[2]);
    Outgoing outgoing(graph, rows, call.with_private);
    read_ledger(graph, 1, graph.entry(), outgoing);
    rows.finish();
    for (std::size_t i = 0; i < 3; ++i) {
        must_be_written(out[i], target / own_table_file(tables[i]));
        const fs::path path = target / (own_table_file(tables[i]) + "-metadata.json");
        std::ofstream metadata(path, std::ios::binary);
        metadata << own_table_metadata(tables[i], graph.vocabulary().language());
        must_be_written(metadata, path);
    }
    *call.err << "wrote three tables into " << target.string()
              << "; they leave out the history, further fields of sources and outside identifiers of things";
    if (rows.rulings()) *call.err << fmt::format(", {} rulings", rows.rulings());
    if (rows.bare_claims()) *call.err << fmt::format(", {} claims without any evidence", rows.bare_claims());
    if (rows.lost_arguments()) *call.err << fmt::format(", {} arguments from such claims", rows.lost_arguments());
    if (outgoing.left_out_count())
        *call.err << fmt::format("; {} private records left out (see --with-private)", outgoing.left_out_count());
    *call.err << '\n';
}

}  // namespace saggar::app
