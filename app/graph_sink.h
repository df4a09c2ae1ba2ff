// The end of the way in: records that passed the checks go into a change of the graph.
#pragma once

#include <cstdint>
#include <functional>
#include <ostream>

#include "importers/sink.h"
#include "kg/model/fault.h"
#include "kg/store/store.h"

namespace saggar::app {

// With `replay`, entry lines of our own JSON Lines restore the history they tell; otherwise they are passed over and
// all records belong to the one entry that the change makes.
class GraphSink : public Sink {
public:
    // Progress goes to `progress` (null: silent) every few ten thousand records. All must outlive the sink.
    GraphSink(Change& change, Problems& problems, bool replay, std::ostream* progress)
        : change_(change), problems_(problems), replay_(replay), progress_(progress) {}
    ~GraphSink() override;

    // Called with every claim that is new to the graph, and with every source before it is put; a problem's message where the
    // source may not enter.
    std::function<void(const Claim&)> on_new_claim;
    std::function<std::string(const Source&)> objection;

    void put(Record record, const Origin& origin) override;
    void begin_entry(EntryHeader entry, const Origin& origin) override;
    void document(DocumentLine line, const Origin& origin) override;
    void picture(PictureFile file, const Origin&) override { pictures_.push_back(std::move(file)); }

    // The pictures that go with the records, to be kept before the change is committed.
    const std::vector<PictureFile>& pictures() const { return pictures_; }

private:
    void refuse(const Fault& fault, const Origin& origin);

    Change& change_;
    Problems& problems_;
    bool replay_;
    std::ostream* progress_;
    std::vector<PictureFile> pictures_;
    std::uint64_t count_ = 0;
};

}  // namespace saggar::app
