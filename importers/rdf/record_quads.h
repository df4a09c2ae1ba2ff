// From the records of a graph and its history to quads in nanopublication layout.
//
// Every record is one node that carries all its fields (own_names.h), the entry of the history that wrote it and its place there; of a
// record written again, earlier writings stand at NODE:version:ENTRY. So the records can be read back whole. Beside that:
//   claim     four graphs, claim:ID:head, :assertion, :provenance, :pubinfo (nanopublication guidelines). The assertion holds the
//             proposition as a reification (rdf:Statement: it states nothing), and the plain triple only where the claim is "asserted"
//             (claim_states.h). A belief (CRMinf) says whether the proposition is held true, held false or left open.
//             An asserted claim is also an attribute assignment (CRM E13), documented in the sources that say so.
//   evidence  in the provenance of its claim; a plain reading is a belief of its own (CRMinf), held true or held false
//   argument, ruling   in the provenance of their claim, as inference making (CRMinf)
//   thing     in the graph urn:saggar:things, with the CRM class of its kind and its names
//   source    in urn:saggar:sources; list in urn:saggar:lists; entries and withdrawals in urn:saggar:history; documents, kinds and
//             relations in the default graph
#pragma once

#include <functional>
#include <string>

#include "importers/rdf/claim_states.h"
#include "importers/rdf/term.h"
#include "kg/model/record_json.h"
#include "kg/model/vocabulary.h"

namespace saggar::rdf {

class RecordQuads {
public:
    using Emit = std::function<void(const Quad&)>;

    // All must outlive it. `states` has noted every record that will come.
    RecordQuads(const Vocabulary& vocabulary, const ClaimStates& states, Emit emit)
        : vocabulary_(vocabulary), states_(states), emit_(std::move(emit)) {}

    // Kinds and relations of the vocabulary.
    void preface();
    void entry(const EntryHeader& entry);
    void document(const DocumentLine& document);
    void record(const Record& record);

private:
    void quad(std::string_view graph, std::string subject, std::string_view curie, std::string object);
    // What stands behind a node's name for the present entry: nothing, or ":version:N" where a later entry writes it again.
    std::string version(std::uint64_t last) const;
    void facts(const std::string& node, std::string_view graph, std::string_view type);

    void put(const Entity& entity);
    void put(const Source& source);
    void put(const Claim& claim);
    void put(const Evidence& evidence);
    void put(const Listing& listing);
    void put(const Argument& argument);
    void put(const Ruling& ruling);
    void put(const Withdrawal& withdrawal);
    void belief(const std::string& graph, const std::string& node, const ContentId& about, std::string_view held);
    void agent(std::string_view graph, const std::string& node, const std::string& name);
    void invalidated(const std::string& graph, const std::string& node, const ContentId& id);

    const Vocabulary& vocabulary_;
    const ClaimStates& states_;
    Emit emit_;
    EntryHeader entry_;
    std::uint64_t order_ = 0;
};

}  // namespace saggar::rdf
