#include "yaml_syntax.h"

#include <stddef.h>
#include <string.h>

static const char QUOTE_IT[] = "put the whole text between quotes: \"...\"";
static const char ALIGN[] = "begin entries that belong together under one another, with blanks alone";

/* Sought from the top; the signs were collected by trying mistakes on version 0.7.12. */
static const struct st_yaml_mistake MISTAKE[] = {
    { "double-quoted scalar without closing", "this quote is not closed", "the file ends before the next \"",
      "put \" at the end of the text", 0 },
    { "single-quoted scalar without closing", "this quote is not closed", "the file ends before the next '",
      "put ' at the end of the text", 0 },
    { "wrongly indented double-quoted", "this quote is not closed", "the next line begins before the text ends",
      "put \" at the end of the text", 0 },
    { "wrongly indented single-quoted", "this quote is not closed", "the next line begins before the text ends",
      "put ' at the end of the text; a quote inside the text is written twice: ''", 0 },
    { "document indicator", "this quote is not closed", "the text runs on to the end of the document",
      "close the quote at the end of the text", 0 },
    { "end of stream", "this quote is not closed", "the text runs on to the end of the file",
      "close the quote at the end of the text", 0 },
    { "invalid escape", "a backslash that means nothing here",
      "between \" and \" a backslash begins a special character", "write it twice: \\\\, or use ' instead of \"", 0 },
    { "hex", "a backslash that means nothing here", "the code of a character is broken off",
      "write the character itself", 0 },
    { "tab character", "a tab where blanks belong", "only blanks show how lines belong together",
      "put two blanks in its place", 0 },
    { "extra closing bracket", "a ] too many", "no [ is open here", "delete it, or quote the text it stands in", 0 },
    { "extra closing brace", "a } too many", "no { is open here", "delete it, or quote the text it stands in", 0 },
    { "without a closing", "this bracket is not closed", "the list or map in it has no end",
      "put ] or } after its last entry", 1 },
    { "missing comma", "this bracket is not closed, or a comma is missing in it",
      "entries in brackets are parted by commas",
      "part them by commas and close the bracket, or write one entry a line", 1 },
    { "mismatch", "the wrong bracket closes this one", "[ ends with ], { ends with }", "make both the same kind", 1 },
    { "multiline plain key", "this text runs on into the next line, and a colon stands there",
      "a line that begins further to the right goes on with the text above it",
      "begin the next key under the first letter of this one's key, or quote the text", 0 },
    { "multiline", "a key that goes over several lines", "a key and its colon stand in one line",
      "write the key and its colon in one line", 0 },
    { "nested block mapping on the same line", "a second colon in this line",
      "a colon and a blank part a key from its value", QUOTE_IT, 0 },
    { "missing ':'", "a colon is missing after this key", "lines of this part read `key: value`",
      "put a colon and a blank behind the key", 0 },
    { "cannot start with", "a text cannot begin with this character", "it has a meaning of its own in YAML", QUOTE_IT,
      0 },
    { "trailing content after", "more text behind the closing quote", "quotes go around the whole text",
      "put the quotes around everything, or leave them out", 0 },
    { "block scalar", "no text can begin behind | or > in this line", "the text begins in the next line",
      "write it in the next line, two blanks further to the right, or in quotes", 0 },
    { "same line as a mapping key", "a list cannot begin in the line of its key",
      "each entry of such a list has a line of its own", "put the - in the next line, two blanks further in", 0 },
    { "indendation", "this line begins at the wrong place", "it stands neither under the entries above nor further in",
      ALIGN, 0 },
    { "indent", "this line begins at the wrong place", "it stands neither under the entries above nor further in",
      ALIGN, 0 },
    { "directive", "a % at the beginning of a line", "recipe files have no directives", "take the line out", 0 },
    { "block mapping", "this line does not fit here", "a key and its value were expected, `key: value`", ALIGN, 0 },
    { "block sequence", "this line does not fit here", "a list entry was expected, `- text`", ALIGN, 0 },
    { "anchor", "an & or * that means nothing here", "recipe files have no anchors", QUOTE_IT, 0 },
    { "alias", "an & or * that means nothing here", "recipe files have no anchors", QUOTE_IT, 0 },
    { "tag", "a ! that means nothing here", "recipe files have no tags", QUOTE_IT, 0 },
    { "flow", "the brackets here do not fit together", "entries in [ ] or { } are parted by commas",
      "write one entry a line instead", 1 },
    { "key", "a key that cannot be read", "lines of this part read `key: value`", "quote the text, or mend the colon",
      0 },
    { "", "this cannot be read as YAML", "brackets, quotes, colons or the beginnings of lines do not fit together",
      "compare it with docs/recipe-file.md, or quote the text of this line", 0 },
};

const struct st_yaml_mistake *st_yaml_mistake(const char *message)
{
    const struct st_yaml_mistake *m = MISTAKE;
    while (!strstr(message, m->sign)) /* the last sign is in every message */
        m++;
    return m;
}
