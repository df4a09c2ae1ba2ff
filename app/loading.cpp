#include "app/loading.h"

#include <fmt/format.h>
#include <unistd.h>

#include <fstream>
#include <iostream>
#include <nlohmann/json.hpp>

#include "app/graph_sink.h"
#include "app/loaded_before.h"
#include "app/session.h"
#include "importers/bag/bag_check.h"
#include "importers/bag/read_bag.h"
#include "importers/checked_sink.h"
#include "importers/rdf/read_rdf.h"
#include "kg/model/fault.h"
#include "kg/store/media.h"
#include "kg/weigh/copying_check.h"
#include "kg/weigh/profile.h"
#include "kg/weigh/rule_engine.h"
#include "queries/privacy.h"

namespace saggar::app {
namespace {

// A whole export brings the vocabulary its records were written under.
std::optional<Vocabulary> vocabulary_of_export(const LoadJob& job) {
    const std::filesystem::path& path = job.path;
    const auto format = job.options.format ? job.options.format : detect_format(path, "");
    if (format == Format::trig || format == Format::nquads) {
        Problems problems;
        const auto text = rdf::vocabulary_in(path, format == Format::trig ? rdf::Syntax::trig : rdf::Syntax::nquads);
        return text ? Vocabulary::parse(*text, problems) : std::nullopt;
    }
    std::ifstream in(is_bag(path) ? path / bag_graph_path : path, std::ios::binary);
    std::string line;
    for (int i = 0; i < 3 && std::getline(in, line); ++i) {
        if (line.rfind("{\"document\"", 0) != 0) continue;
        const auto read = nlohmann::json::parse(line, nullptr, false);
        if (read.is_discarded() || !read["document"].is_object()) continue;
        const auto& document = read["document"];
        if (document.value("name", "") != "vocabulary") continue;
        Problems problems;
        return Vocabulary::parse(document.value("text", ""), problems);
    }
    return std::nullopt;
}

Profile profile_of(const Snapshot& graph) {
    Problems problems;
    auto profile = Profile::parse(graph.profile_text(), problems);
    if (!profile)
        throw StoreFault("the weighing profile stored with the graph cannot be read",
                         "load a sound one with `saggar profile load FILE`");
    return std::move(*profile);
}

// "a is copied from b, which is copied from a"; empty: no circle.
std::string circle_words(const std::vector<std::string>& circle, Privacy& privacy) {
    std::string words;
    for (std::size_t i = 0; i < circle.size(); ++i) words += (i == 0 ? "" : i == 1 ? " is copied from " : ", which is copied from ") + (privacy.may_show_key(circle[i]) ? circle[i] : "a private source");
    return words;
}

// A bag loaded before may still bring pictures that the graph has lost.
void keep_pictures_again(const Store& store, const LoadJob& job, Problems& problems) {
    class : public Sink {
    public:
        void put(Record, const Origin&) override {}
        void picture(PictureFile file, const Origin&) override { files.push_back(std::move(file)); }
        std::vector<PictureFile> files;
    } pictures;
    read_bag(job.path, job.path.string(), job.options.limits, pictures, problems);
    if (problems.any_error()) return;
    for (const PictureFile& file : pictures.files) keep_media(store.folder(), file.path, file.hash);
}

// An RDF file may be larger than memory, and reading it is slow beside looking things up on disk: the change keeps little in memory.
bool is_rdf(const LoadJob& job) {
    const auto format = job.options.format ? job.options.format : detect_format(job.path, "");
    return format == Format::turtle || format == Format::trig || format == Format::ntriples || format == Format::nquads;
}
constexpr std::size_t rdf_memory_budget = 16u << 20;
constexpr std::size_t rdf_lookup_budget = 8u << 20;
// Others: about two and a half million claims; beyond, a load takes three times as long a row (measured) and no more memory.
constexpr std::size_t lookup_budget = 640u << 20;

bool only_started(const Store& store) {
    const auto graph = store.snapshot();
    return graph->entry() == 1 && graph->entity_bound() == 1;
}

}  // namespace

LoadResult load(Store& store, const Call& call, const LoadJob& job) {
    LoadResult result;
    const auto graph = store.snapshot();
    ChangeHead head =
        change_head(call, store, job.verb, job.reason.empty() ? job.path.filename().string() : job.reason);
    if (!job.bytes) {
        const std::optional<ContentId> digest = load_digest(job.path, job.options);
        const std::optional<std::uint64_t> before = digest ? store.loaded_as(*digest) : std::nullopt;
        const EntryStanding standing = before ? entry_standing(*graph, *before) : EntryStanding();
        if (before && !standing.none_stands()) {
            result.loaded_before = before;
            result.taken_back = standing.taken_back;
            if (std::filesystem::is_directory(job.path) && !job.dry_run) keep_pictures_again(store, job, result.problems);
            return result;
        }
        head.file_digest = digest;
    }
    head.lookup_budget = lookup_budget;
    if (!job.bytes && is_rdf(job)) {
        head.memory_budget = rdf_memory_budget;
        head.lookup_budget = rdf_lookup_budget;
    }
    const bool replay = !job.bytes && only_started(store);
    const std::optional<Vocabulary> brought = replay ? vocabulary_of_export(job) : std::nullopt;
    const Vocabulary& vocabulary = brought ? *brought : graph->vocabulary();
    const Profile profile = profile_of(*graph);
    Change change = store.begin(head);
    GraphSink into(change, result.problems, replay,
                   ::isatty(STDERR_FILENO) == 1 && call.err == &std::cerr ? call.err : nullptr);
    Problems rule_problems;
    auto rules = read_rules(graph->vocabulary_text(), graph->vocabulary(), rule_problems);
    RuleEngine engine(graph->vocabulary(), rules ? std::move(*rules) : std::vector<Rule>{});
    CopyingCheck copying(*graph);
    Privacy privacy(*graph, call.with_private);
    into.objection = [&](const Source& source) { return circle_words(copying.note(source), privacy); };
    if (engine.any() && !brought) into.on_new_claim = [&](const Claim& claim) { engine.note(claim); };
    CheckedSink checked(into, vocabulary, profile, result.problems,
                        [&](const ContentId& id) { return change.has_claim(id); });
    if (brought) checked.follow_documents();
    const ReadContext context{vocabulary, head.author.empty() ? store.setting("author") : head.author, &profile, [&](const std::string& key) {
                                  const auto id = graph->find(key);
                                  const auto known = id ? graph->entity(*id) : std::nullopt;
                                  return known ? known->label.text : std::string();
                              }};
    if (job.bytes) {
        read_bytes(*job.bytes, job.path, job.options, context, checked, result.problems);
    } else {
        read_file(job.path, job.options, context, checked, result.problems);
    }
    if (!result.problems.any_error()) engine.finish(*graph, [&](const Record& record) { change.put(record); });
    result.counts = change.counts();
    if (result.problems.any_error() || job.dry_run) return result;
    for (const PictureFile& file : into.pictures()) keep_media(store.folder(), file.path, file.hash);
    const Entry entry = change.commit();
    if (entry.number > graph->entry() || replay) result.entry = entry.number;
    return result;
}

std::string counts_in_words(const Entry::Counts& n) {
    std::string out;
    const auto add = [&](std::uint64_t count, const char* one, const char* many) {
        if (count) out += fmt::format("{}{} {}", out.empty() ? "" : ", ", count, count == 1 ? one : many);
    };
    add(n.entities, "thing", "things");
    add(n.sources, "source", "sources");
    add(n.claims, "claim", "claims");
    add(n.evidence, "reading", "readings");
    add(n.lists, "list", "lists");
    add(n.arguments, "argument", "arguments");
    add(n.rulings, "ruling", "rulings");
    add(n.withdrawals, "withdrawal", "withdrawals");
    return out;
}

void write_problems(std::ostream& out, const Problems& problems) {
    for (const Problem& problem : problems.list()) out << to_text(problem);
    if (problems.not_kept()) out << "and " << problems.not_kept() << " more problems\n";
}

}  // namespace saggar::app
