// The Skerrow example as RDF: loaded back it is the same graph; reference libraries read the same quads; every name of a published
// vocabulary exists there.
#include <algorithm>
#include <array>
#include <catch2/catch.hpp>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <map>
#include <nlohmann/json.hpp>
#include <set>
#include <sstream>
#include <string>

#include "importers/rdf/quad_reader.h"
#include "kg/model/vocabulary.h"
#include "tests/kg/store/temporary_folder.h"
#include "tests/python_reference.h"

using namespace saggar;
using saggar::testing::TemporaryFolder;
namespace fs = std::filesystem;

namespace {

const std::string top = SAGGAR_SOURCE_DIR;
const std::string saggar_command = "SOURCE_DATE_EPOCH=1767225600 SAGGAR=" SAGGAR_BIN_DIR "/saggar";

void run(const std::string& command) {
    INFO(command);
    REQUIRE(std::system((command + " >/dev/null 2>&1").c_str()) == 0);
}

std::string text_of(const fs::path& path) {
    std::ifstream in(path, std::ios::binary);
    return std::string(std::istreambuf_iterator<char>(in), {});
}

// The example graph with its exports in all forms, made once.
struct Exported {
    TemporaryFolder folder;
    Exported() {
        run(saggar_command + " sh '" + top + "/examples/skerrow/load.sh' '" + (folder.path() / "graph").string() + "'");
        for (const char* const format : {"jsonl", "nquads", "trig", "jsonld"}) {
            run(command("graph") + " export --format " + format + " -o '" + path(std::string("public.") + format) + "'");
            run(command("graph") + " --with-private export --format " + format + " -o '" + path(std::string("whole.") + format) + "'");
        }
    }
    std::string path(const std::string& name) const { return (folder.path() / name).string(); }
    std::string command(const std::string& graph) const {
        return "SOURCE_DATE_EPOCH=1767225600 '" SAGGAR_BIN_DIR "/saggar' --graph '" + path(graph) + "'";
    }
};

const Exported& exported() {
    static const Exported once;
    return once;
}

std::vector<rdf::Quad> quads_of(const std::string& path, rdf::Syntax syntax) {
    std::vector<rdf::Quad> quads;
    Problems problems;
    TextInput input(path, open_file(path), problems);
    rdf::read_quads(input, {syntax, ""}, [&](const rdf::Quad& quad, const rdf::Spot&) { quads.push_back(quad); }, problems);
    CHECK_FALSE(problems.any_error());
    return quads;
}

}  // namespace

TEST_CASE("the example exported as N-Quads or TriG and loaded back is the same graph", "[rdf]") {
    const Exported& e = exported();
    for (const std::string which : {"public", "whole"}) {
        for (const std::string format : {"nquads", "trig"}) {
            TemporaryFolder back;
            const std::string graph = (back.path() / "g").string();
            const std::string command = "'" SAGGAR_BIN_DIR "/saggar' --graph '" + graph + "' ";
            run(command + "start --author X");
            run(command + "load --as " + format + " '" + e.path(which + "." + format) + "'");
            run(command + (which == "whole" ? "--with-private " : "") + "export -o '" + (back.path() / "back.jsonl").string() + "'");
            CHECK(text_of(back.path() / "back.jsonl") == text_of(e.path(which + ".jsonl")));
        }
    }
}

TEST_CASE("N-Quads are sorted lines, TriG says the same, nothing private leaves unasked", "[rdf]") {
    const Exported& e = exported();
    auto quads = quads_of(e.path("public.nquads"), rdf::Syntax::nquads);
    auto grouped = quads_of(e.path("public.trig"), rdf::Syntax::trig);
    const auto before = [](const rdf::Quad& a, const rdf::Quad& b) {
        return std::tie(a.graph, a.subject, a.predicate, a.object) < std::tie(b.graph, b.subject, b.predicate, b.object);
    };
    CHECK(quads.size() > 100'000);
    CHECK(std::is_sorted(quads.begin(), quads.end(), before));
    CHECK(quads == grouped);
    CHECK(text_of(e.path("public.nquads")).find("urn:saggar:term:private") == std::string::npos);
    CHECK(text_of(e.path("whole.nquads")).find("urn:saggar:term:private") != std::string::npos);
}

TEST_CASE("only asserted claims leave as plain triples", "[rdf]") {
    const auto quads = quads_of(exported().path("public.nquads"), rdf::Syntax::nquads);
    const std::string thing = "<urn:saggar:thing:";
    const std::string relation = "<urn:saggar:relation:";
    std::set<std::string> asserted;
    std::set<std::string> statuses;
    for (const rdf::Quad& quad : quads) {
        if (quad.predicate != "<urn:saggar:term:status>") continue;
        statuses.insert(quad.object);
        if (quad.object == "<urn:saggar:term:asserted>") asserted.insert(quad.subject.substr(0, quad.subject.size() - 1) + ":assertion>");
    }
    CHECK(statuses.count("<urn:saggar:term:denied>") == 1);
    CHECK(statuses.count("<urn:saggar:term:disputed>") == 1);
    CHECK(statuses.count("<urn:saggar:term:hedged>") == 1);
    std::set<std::string> plain;
    for (const rdf::Quad& quad : quads) {
        if (quad.predicate.substr(0, relation.size()) != relation) continue;
        CHECK(quad.subject.substr(0, thing.size()) == thing);
        plain.insert(quad.graph);
    }
    CHECK(plain == asserted);
}

// FORMATS.md, RDF, Out: what is left for a reader who does not know our terms. Our records become somebody else's, our terms go.
TEST_CASE("without our own terms the asserted claims, their sources and the things come back", "[rdf]") {
    const Exported& e = exported();
    TemporaryFolder back;
    const auto foreign = [](std::string term) {
        const std::string own = "<urn:saggar:";
        if (term.substr(0, own.size()) != own) return term;
        const std::string rest = term.substr(own.size());
        for (const char* const kept : {"thing:", "relation:", "kind:"})
            if (rest.substr(0, std::string(kept).size()) == kept) return term;
        return "<https://elsewhere.example/" + rest;
    };
    std::set<std::string> wanted;  // asserted triples, and those with the source of an unhedged reading for them
    std::map<std::string, std::string> asserted;
    {
        std::ofstream out(back.path() / "foreign.nq");
        for (const rdf::Quad& quad : quads_of(e.path("public.nquads"), rdf::Syntax::nquads)) {
            if (quad.predicate.rfind("<urn:saggar:term:", 0) == 0) continue;
            out << rdf::nquads_line({foreign(quad.subject), foreign(quad.predicate), foreign(quad.object), foreign(quad.graph)});
            if (quad.predicate.rfind("<urn:saggar:relation:", 0) == 0) asserted[quad.graph] = quad.subject + quad.predicate + quad.object;
        }
    }
    for (const rdf::Quad& quad : quads_of(e.path("public.nquads"), rdf::Syntax::nquads)) {
        const auto claim = asserted.find(quad.subject);
        if (claim != asserted.end() && quad.predicate == "<http://www.w3.org/ns/prov#wasDerivedFrom>") wanted.insert(claim->second + quad.object);
    }
    REQUIRE(wanted.size() > 500);
    const std::string command = "'" SAGGAR_BIN_DIR "/saggar' --graph '" + (back.path() / "g").string() + "' ";
    {
        // The rules would draw the claims that were drawn before and are not asserted.
        nlohmann::json vocabulary = nlohmann::json::parse(Vocabulary::standard().document());
        vocabulary["rules"] = nlohmann::json::array();
        std::ofstream(back.path() / "vocabulary.json") << vocabulary;
    }
    run(command + "start --author X --vocabulary '" + (back.path() / "vocabulary.json").string() + "'");
    run(command + "load '" + (back.path() / "foreign.nq").string() + "'");
    run(command + "export --format nquads -o '" + (back.path() / "again.nquads").string() + "'");
    std::set<std::string> found;
    std::map<std::string, std::string> again;
    std::size_t status = 0;
    const auto quads = quads_of((back.path() / "again.nquads").string(), rdf::Syntax::nquads);
    for (const rdf::Quad& quad : quads) {
        if (quad.predicate.rfind("<urn:saggar:relation:", 0) == 0) again[quad.graph] = quad.subject + quad.predicate + quad.object;
        status += quad.predicate == "<urn:saggar:term:status>";
    }
    for (const rdf::Quad& quad : quads) {
        const auto claim = again.find(quad.subject);
        if (claim != again.end() && quad.predicate == "<http://www.w3.org/ns/prov#wasDerivedFrom>") found.insert(claim->second + quad.object);
    }
    std::set<std::string> before;
    for (const auto& one : asserted) before.insert(one.second);
    std::set<std::string> after;
    for (const auto& one : again) after.insert(one.second);
    const auto missing = [](const std::set<std::string>& from, const std::set<std::string>& there) {
        std::vector<std::string> left;
        std::set_difference(from.begin(), from.end(), there.begin(), there.end(), std::back_inserter(left));
        return left;
    };
    CHECK(missing(before, after).empty());
    CHECK(missing(wanted, found).empty());
    // What came besides: that one source is copied from another (PROV-O says so), and nothing that was not asserted.
    for (const std::string& triple : missing(after, before)) {
        INFO(triple);
        CHECK(triple.find("<urn:saggar:relation:copied-from>") != std::string::npos);
    }
    CHECK(status == again.size());
}

// rdflib: https://github.com/RDFLib/rdflib, Debian's python3-rdflib.
TEST_CASE("rdflib reads the same quads from our N-Quads and TriG", "[rdf][reference]") {
    if (!test::python_has("rdflib")) {
        WARN("python3-rdflib is not installed");
        return;
    }
    const Exported& e = exported();
    const auto answer = test::run_python(R"(
import sys, rdflib
def read(path, form):
    ds = rdflib.ConjunctiveGraph()
    ds.parse(path, format=form, publicID='urn:default')
    return set((s.n3(), p.n3(), str(o), type(o).__name__, getattr(o, 'language', None), str(getattr(o, 'datatype', None)), str(c.identifier))
               for s, p, o, c in ds.quads((None, None, None, None)))
paths = open(sys.argv[1]).read().split('\n')
a, b = read(paths[0], 'nquads'), read(paths[1], 'trig')
print(len(a), a == b)
)",
                                         e.path("public.nquads") + "\n" + e.path("public.trig"));
    REQUIRE(answer);
    const auto quads = quads_of(e.path("public.nquads"), rdf::Syntax::nquads);
    CHECK(*answer == std::to_string(quads.size()) + " True\n");
}

// pyld: https://github.com/digitalbazaar/pyld, Debian's python3-pyld.
TEST_CASE("pyld expands our JSON-LD to the quads of our N-Quads", "[rdf][reference]") {
    if (!test::python_has("pyld")) {
        WARN("python3-pyld is not installed");
        return;
    }
    const Exported& e = exported();
    const auto answer = test::run_python(R"(
import sys, json
from pyld import jsonld
paths = open(sys.argv[1]).read().split('\n')
def forbidden(url, options): raise Exception('nothing is fetched')
jsonld.set_document_loader(forbidden)
doc = json.load(open(paths[0], encoding='utf8'))
ds = jsonld.to_rdf(doc, {})
def term(t):
    if t['type'] == 'literal': return ('L', t['value'], t.get('language'), t['datatype'])
    return (t['type'], t['value'])
got = set()
for g, triples in ds.items():
    for t in triples: got.add((term(t['subject']), term(t['predicate']), term(t['object']), '' if g == '@default' else g))
from pyld.jsonld import JsonLdProcessor
want = set()
for g, triples in JsonLdProcessor.parse_nquads(open(paths[1], encoding='utf8').read()).items():
    for t in triples: want.add((term(t['subject']), term(t['predicate']), term(t['object']), '' if g == '@default' else g))
print(len(got), got == want)
for x in list(got - want)[:3]: print('+', x)
for x in list(want - got)[:3]: print('-', x)
)",
                                         e.path("public.jsonld") + "\n" + e.path("public.nquads"));
    REQUIRE(answer);
    const auto quads = quads_of(e.path("public.nquads"), rdf::Syntax::nquads);
    CHECK(*answer == std::to_string(quads.size()) + " True\n");
}

// The names and where they come from stand at the head of published-names.txt.
TEST_CASE("every name of a published vocabulary that leaves exists there", "[rdf][reference]") {
    std::set<std::string> known;
    std::ifstream in(top + "/tests/importers/rdf/published-names.txt");
    for (std::string line; std::getline(in, line);) {
        std::istringstream words(line);
        for (std::string word; line[0] != '#' && words >> word;) known.insert(word);
    }
    const std::vector<std::pair<std::string, std::string>> spaces = {{"crm:", "http://www.cidoc-crm.org/cidoc-crm/"},
                                                                     {"crminf:", "http://www.cidoc-crm.org/extensions/crminf/"},
                                                                     {"prov:", "http://www.w3.org/ns/prov#"},
                                                                     {"skos:", "http://www.w3.org/2004/02/skos/core#"},
                                                                     {"dcterms:", "http://purl.org/dc/terms/"},
                                                                     {"np:", "http://www.nanopub.org/nschema#"}};
    std::set<std::string> used;
    const auto note = [&](std::string_view term) {
        for (const auto& [prefix, space] : spaces) {
            if (term.size() > space.size() && term.substr(1, space.size()) == space)
                used.insert(prefix + std::string(term.substr(space.size() + 1, term.size() - space.size() - 2)));
        }
    };
    for (const rdf::Quad& quad : quads_of(exported().path("whole.nquads"), rdf::Syntax::nquads)) {
        note(quad.predicate);
        note(quad.object);
    }
    CHECK(used.size() > 40);
    for (const std::string& name : used) {
        INFO(name);
        CHECK(known.count(name) == 1);
    }
    // What rdflib holds of PROV-O, SKOS and Dublin Core terms is taken from the published files.
    if (!test::python_has("rdflib")) {
        WARN("python3-rdflib is not installed");
        return;
    }
    std::string list;
    for (const std::string& name : known) list += name + '\n';
    const auto answer = test::run_python(R"(
import sys, warnings
from rdflib.namespace import PROV, SKOS, DCTERMS
warnings.simplefilter('ignore')
for line in open(sys.argv[1]).read().split():
    prefix, name = line.split(':', 1)
    space = {'prov': PROV, 'skos': SKOS, 'dcterms': DCTERMS}.get(prefix)
    try: known = space is None or space[name] in space
    except AttributeError: known = False
    if not known: print(line)
)",
                                         list);
    REQUIRE(answer);
    CHECK(*answer == "");
}
