#include "app/verbs/verbs.h"

#include "app/args.h"

namespace saggar::app {

const std::vector<Verb>& verbs() {
    // In the order of the manual; one a line, so that changes do not meet.
    // clang-format off
    static const std::vector<Verb> all = {
        start_verb(),
        load_verb(),
        note_verb(),
        find_verb(),
        show_verb(),
        trace_verb(),
        disputes_verb(),
        settle_verb(),
        same_verb(),
        weigh_verb(),
        profile_verb(),
        vocabulary_verb(),
        date_verb(),
        compare_verb(),
        identify_verb(),
        cite_verb(),
        draw_verb(),
        dossier_verb(),
        history_verb(),
        changes_verb(),
        withdraw_verb(),
        export_verb(),
        merge_verb(),
        check_verb(),
        backup_verb(),
        restore_verb(),
    };
    // clang-format on
    return all;
}

}  // namespace saggar::app
