// Reading tables into a graph: our own claims table, and the same rows as a table of another's through CSVW metadata.
#include <fmt/format.h>

#include <fstream>
#include <iostream>

#include "app/loading.h"
#include "app/session.h"
#include "kg/store/store.h"
#include "tests/bench/measure.h"
#include "tests/bench/measurements.h"

namespace saggar::bench {

namespace {

// Row i of both tables: a piece, its shape, its year, a person with a role.
struct Row {
    std::uint64_t piece, shape, page;
    int year;
};

Row row_of(std::uint64_t i) { return {i, i * 2654435761u % 5000, i % 900, 1900 + static_cast<int>(i * 40503u % 70)}; }

void write_own_table(std::uint64_t rows, const std::filesystem::path& file) {
    std::ofstream out(file, std::ios::binary);
    out << "subject,relation,object,stance,source,at,quote,certainty,recorded_by,recorded_on\n";
    for (std::uint64_t i = 0; i < rows; ++i) {
        const Row row = row_of(i);
        out << fmt::format(
            "piece:p-{},instance-of,shape:s-{},for,source:card-index,page={},card {} of {},probably,H. Q.,2024-05-06\n",
            row.piece, row.shape, row.page, row.piece, row.year);
    }
}

// As many claims a row as our own table: one.
void write_other_table(std::uint64_t rows, const std::filesystem::path& file) {
    std::ofstream out(file, std::ios::binary);
    out << "No,Shape,Year,Page,Role,Height,Remarks\n";
    for (std::uint64_t i = 0; i < rows; ++i) {
        const Row row = row_of(i);
        out << fmt::format("P {},S {},{},{},{},{}.5,card {} of {}\n", row.piece, row.shape, row.year, row.page,
                           i % 3 ? "Example" : "possibly Example", row.page, row.piece, row.year);
    }
    std::ofstream(file.string() + "-metadata.json") << R"({"@context": "http://www.w3.org/ns/csvw", "url": "other.csv",
"saggar:source": "source:card-index", "saggar:at": "page={page}", "saggar:quote": "{remarks}",
"saggar:roles": [{"saggar:word": "Example", "saggar:relation": "instance-of"}],
"tableSchema": {"aboutUrl": "piece:{no}", "columns": [
 {"titles": "No", "name": "no", "required": true},
 {"titles": "Shape", "name": "shape", "propertyUrl": "relation:instance-of", "valueUrl": "shape:{shape}", "saggar:role": "{role}"},
 {"titles": "Year", "name": "year", "datatype": {"base": "integer", "minimum": 1850}},
 {"titles": "Page", "name": "page", "datatype": "integer"},
 {"titles": "Role", "name": "role"},
 {"titles": "Height", "name": "height", "datatype": "decimal"},
 {"titles": "Remarks", "name": "remarks"}]}})";
}

Numbers load_file(const std::filesystem::path& file, const std::filesystem::path& graph) {
    Store store = Store::create(graph, {"", "", "bench", "2026-01-01T00:00:00Z"});
    app::Call call;
    call.graph = graph.string();
    call.err = &std::cerr;
    app::LoadJob job;
    job.path = file;
    const Stopwatch watch;
    const double before = processor_seconds();
    const app::LoadResult result = app::load(store, call, job);
    if (result.problems.any_error()) app::write_problems(std::cerr, result.problems);
    return {{"seconds", watch.seconds()},
            {"processor_seconds", processor_seconds() - before},
            {"peak_mib", peak_mib()},
            {"mib", static_cast<double>(std::filesystem::file_size(file)) / (1 << 20)},
            {"claims", static_cast<double>(result.counts.claims)},
            {"evidence", static_cast<double>(result.counts.evidence)}};
}

}  // namespace

Numbers own_table(std::uint64_t rows, const std::filesystem::path& folder) {
    std::filesystem::create_directories(folder);
    write_own_table(rows, folder / "claims.csv");
    return load_file(folder / "claims.csv", folder / "graph");
}

Numbers other_table(std::uint64_t rows, const std::filesystem::path& folder) {
    std::filesystem::create_directories(folder);
    write_other_table(rows, folder / "other.csv");
    return load_file(folder / "other.csv", folder / "graph");
}

}  // namespace saggar::bench
