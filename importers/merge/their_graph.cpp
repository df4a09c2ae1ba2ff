#include "importers/merge/their_graph.h"

#include "importers/jsonl.h"
#include "importers/text_input.h"
#include "kg/model/fault.h"
#include "kg/store/ledger.h"

namespace saggar {
namespace {

namespace fs = std::filesystem;

std::string last_part(fs::path path) {
    path = path.lexically_normal();
    return path.has_filename() ? path.filename().string() : path.parent_path().filename().string();
}

// Hands a ledger to a sink.
class LedgerToSink : public LedgerVisitor {
public:
    LedgerToSink(Sink& sink, const std::string& name) : sink_(sink), name_(name) {}
    void entry(const Entry& entry) override {
        number_ = entry.number;
        sink_.begin_entry({entry.number, entry.time, entry.author, entry.verb, entry.reason}, origin());
    }
    void document(const std::string& name, const std::string& text) override { sink_.document({name, text}, origin()); }
    void record(const Record& record) override { sink_.put(record, origin()); }

private:
    PlainOrigin origin() const {
        Place place;
        place.file = name_ + ", entry " + std::to_string(number_);
        return PlainOrigin(std::move(place));
    }
    Sink& sink_;
    const std::string& name_;
    std::uint64_t number_ = 0;
};

class GraphFolder final : public TheirGraph {
public:
    explicit GraphFolder(const fs::path& path)
        : TheirGraph(last_part(path)), store_(Store::open(path, Access::read)), snapshot_(store_.snapshot()) {}
    void tell(Sink& sink, Problems&) override {
        LedgerToSink visitor(sink, name());
        read_ledger(*snapshot_, 1, snapshot_->entry(), visitor);
    }

    std::filesystem::path folder() const override { return store_.folder(); }

private:
    Store store_;
    std::unique_ptr<Snapshot> snapshot_;
};

class LinesFile final : public TheirGraph {
public:
    explicit LinesFile(fs::path path) : TheirGraph(last_part(path)), path_(std::move(path)) {}
    void tell(Sink& sink, Problems& problems) override {
        TextInput input(name(), open_file(path_), problems);
        read_jsonl(input, sink);
    }

private:
    fs::path path_;
};

}  // namespace

std::unique_ptr<TheirGraph> TheirGraph::open(const fs::path& path) {
    if (fs::is_directory(path)) return std::make_unique<GraphFolder>(path);
    if (!fs::exists(path))
        throw UsageFault("there is no " + path.string(), "name a graph folder, or a file written by `saggar export`");
    return std::make_unique<LinesFile>(path);
}

}  // namespace saggar
