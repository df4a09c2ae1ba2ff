#include "kg/store/backup.h"

#include <fmt/format.h>

#include "app/session.h"
#include "app/verbs/verbs.h"

namespace saggar::app {
namespace {

int run_backup(Call& call) {
    const Store store = Store::open(call.graph, Access::write);
    const BackupReport report = backup(store, call.operand("DIR"));
    *call.out << fmt::format("backed up entry {} in {} files, {} bytes, to {}\n", report.entry, report.files,
                             report.bytes, call.operand("DIR"));
    return fine;
}

int run_restore(Call& call) {
    const BackupReport report = restore(call.operand("DIR"), call.graph);
    *call.out << fmt::format("restored entry {} from {} files, {} bytes, to {}\n", report.entry, report.files,
                             report.bytes, call.graph);
    return fine;
}

}  // namespace

Verb backup_verb() {
    return {
        "backup", "copy the whole graph to a new folder", {{"DIR", "a folder that does not exist yet"}}, {}, run_backup,
        ""};
}

Verb restore_verb() {
    return {"restore",
            "put a backup back, checked, into an empty place",
            {{"DIR", "the folder that `saggar backup` made"}},
            {},
            run_restore,
            "The graph goes to the folder named with --graph, which must not exist or be empty."};
}

}  // namespace saggar::app
