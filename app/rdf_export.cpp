#include "app/rdf_export.h"

#include "app/outgoing.h"
#include "importers/rdf/quad_sort.h"
#include "importers/rdf/quad_write.h"
#include "importers/rdf/record_quads.h"
#include "importers/rdf/scratch_folder.h"
#include "kg/model/vocabulary.h"

namespace saggar::app {
namespace {

class Survey final : public LedgerVisitor {
public:
    explicit Survey(rdf::ClaimStates& states) : states_(states) {}
    void entry(const Entry& entry) override { entry_ = entry.number; }
    void document(const std::string&, const std::string&) override {}
    void record(const Record& record) override { states_.note(record, entry_); }

private:
    rdf::ClaimStates& states_;
    std::uint64_t entry_ = 0;
};

class Writing final : public LedgerVisitor {
public:
    explicit Writing(rdf::RecordQuads& quads) : quads_(quads) {}
    void entry(const Entry& entry) override {
        quads_.entry(EntryHeader{entry.number, entry.time, entry.author, entry.verb, entry.reason});
    }
    void document(const std::string& name, const std::string& text) override { quads_.document(DocumentLine{name, text}); }
    void record(const Record& record) override { quads_.record(record); }

private:
    rdf::RecordQuads& quads_;
};

}  // namespace

bool is_rdf_format(std::string_view format) { return format == "trig" || format == "nquads" || format == "jsonld"; }

std::size_t write_rdf(const Snapshot& graph, std::string_view format, std::ostream& out, bool with_private) {
    rdf::ClaimStates states;
    {
        Survey survey(states);
        Outgoing outgoing(graph, survey, with_private);
        read_ledger(graph, 1, graph.entry(), outgoing);
    }
    const rdf::ScratchFolder scratch;
    rdf::QuadSort sorted(scratch.path());
    rdf::RecordQuads quads(graph.vocabulary(), states, [&](const rdf::Quad& quad) { sorted.add(quad); });
    quads.preface();
    Writing writing(quads);
    Outgoing outgoing(graph, writing, with_private);
    read_ledger(graph, 1, graph.entry(), outgoing);
    const auto writer = rdf::quad_writer(format, out);
    sorted.each([&](const rdf::Quad& quad) { writer->put(quad); });
    writer->finish();
    return outgoing.left_out_count();
}

}  // namespace saggar::app
