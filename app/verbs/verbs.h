// One function a verb, one file a function.
#pragma once

#include "app/verb.h"

namespace saggar::app {

Verb start_verb();
Verb profile_verb();
Verb vocabulary_verb();
Verb load_verb();
Verb note_verb();
Verb find_verb();
Verb show_verb();
Verb trace_verb();
Verb disputes_verb();
Verb settle_verb();
Verb same_verb();
Verb weigh_verb();
Verb date_verb();
Verb compare_verb();
Verb identify_verb();
Verb cite_verb();
Verb draw_verb();
Verb history_verb();
Verb changes_verb();
Verb withdraw_verb();
Verb dossier_verb();
Verb export_verb();
Verb check_verb();
Verb merge_verb();
Verb backup_verb();
Verb restore_verb();

}  // namespace saggar::app
