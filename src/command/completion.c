/* Bash completion from the tables of commands and options: commands, options,
 * words that an option takes, limit sets, file names. */
#include "help.h"

void completion_write(struct ht_text *text)
{
    size_t count;
    const struct command *list = commands_list(&count);
    ht_text_add(text, "# bash completion for halfturn, made from its tables\n"
                      "_halfturn() {\n"
                      "    local word=${COMP_WORDS[COMP_CWORD]} words=\n"
                      "    COMPREPLY=()\n"
                      "    if [ \"$COMP_CWORD\" -eq 1 ]; then\n"
                      "        words='--help --version help");
    for (size_t i = 0; i < count; i++)
        ht_text_addf(text, " %s", list[i].name);
    ht_text_add(text, "'\n"
                      "    else\n"
                      "        case ${COMP_WORDS[COMP_CWORD - 1]} in\n");
    options_values(text);
    ht_text_add(text, "        *)\n"
                      "            [[ $word == -* ]] || return\n"
                      "            case ${COMP_WORDS[1]} in\n");
    for (size_t i = 0; i < count; i++) {
        ht_text_addf(text, "            %s) words='", list[i].name);
        options_names(text, list[i].bit);
        ht_text_add(text, "' ;;\n");
    }
    ht_text_add(text, "            esac ;;\n"
                      "        esac\n"
                      "    fi\n"
                      "    COMPREPLY=($(compgen -W \"$words\" -- "
                      "\"$word\"))\n"
                      "}\n"
                      "complete -o default -F _halfturn halfturn\n");
}
