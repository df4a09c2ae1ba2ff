// The last round of mapped_records.h: the claims of a graph, with what is said of the graph as their evidence.
#include <set>

#include "importers/claim_words.h"
#include "importers/rdf/mapped_records.h"
#include "importers/words.h"
#include "kg/model/key.h"

namespace saggar::rdf {

void MappedRecords::put_claims(Sink& sink, Problems& problems, const SourceLines& lines) {
    std::vector<Evidence> readings;  // one for each source of the graph
    std::set<std::string> sources;
    bool opened = false;
    bool file_source_put = false;
    std::map<std::string, std::string> said;
    RecordJsonReader reader;
    graphs_.each([&](std::string_view graph, bool first, std::uint8_t rank, std::string_view message) {
        if (first) {
            said.clear();
            sources.clear();
            opened = false;
        }
        Unpack unpack(message);
        if (rank == 0) {
            const std::string field(unpack.text());
            const std::string_view text = unpack.text();
            if (field == "source") {
                if (sources.size() < most_together) sources.emplace(text);
                return;
            }
            std::string& value = said[field];
            // Of several the smaller is taken, so that the order of statements does not matter.
            if (value.empty() || text < value) value = text;
            return;
        }
        const std::string_view json = unpack.text();
        const std::string_view quote = unpack.text();
        const std::string slice(unpack.text());
        const std::uint32_t line = unpack.number();
        const SpotOrigin origin(lines, {line, unpack.number()}, slice);
        if (!opened) {
            opened = true;
            std::set<std::string> keys;
            for (const std::string& source : sources) {
                if (is_key(source)) {
                    keys.insert(source);
                    continue;
                }
                Source named;
                named.title = source;
                named.key = key_by_name(literal_term(source), "source");
                if (named.key.empty()) continue;
                keys.insert(named.key);
                sink.put(std::move(named), origin);
            }
            if (keys.empty()) {
                keys.insert(file_source_.key);
                if (!file_source_put && !file_source_.title.empty()) sink.put(file_source_, origin);
                file_source_put = true;
            }
            Evidence evidence;
            evidence.at = said["at"];
            if (evidence.at.empty() && is_iri(graph)) evidence.at = "graph " + std::string(iri_of(graph));
            evidence.certainty = said["certainty"];
            evidence.recorded_by = said["recorded_by"].empty() ? context_.recorded_by : said["recorded_by"];
            if (!said["recorded_on"].empty()) {
                auto day = date_of_words(without_clock(said["recorded_on"]), "", "recorded_on", origin, problems);
                if (day) evidence.recorded_on = std::move(*day);
            }
            const std::string stance = saggar::fold(said["stance"]);
            evidence.stance = stance.find("false") != std::string::npos ? Stance::against : Stance::in_favour;
            readings.assign(keys.size(), evidence);
            auto reading = readings.begin();
            for (const std::string& key : keys) (reading++)->source = key;
        }
        Problems untold(1);
        const auto read = reader.read(TextLines("", json), untold);
        if (!read) return;
        auto claim = std::get<Claim>(std::get<Record>(*read));
        const ContentId id = id_of(claim);
        sink.put(std::move(claim), origin);
        for (Evidence& evidence : readings) {
            evidence.claim = id;
            evidence.quote = said["quote"].empty() ? std::string(quote) : said["quote"];
            sink.put(evidence, origin);
        }
    });
}

}  // namespace saggar::rdf
