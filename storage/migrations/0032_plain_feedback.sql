-- Feedback is kept in plain words: no markup of ours, and none of the signs with which people's words were made harmless.
UPDATE feedback SET text = replace(replace(replace(replace(replace(replace(replace(replace(replace(replace(replace(replace(
    replace(replace(replace(text, '**', ''),
    '\*', '*'), '\_', '_'), '\~', '~'), '\`', '`'), '\|', '|'), '\>', '>'), '\#', '#'), '\<', '<'), '\@', '@'),
    '\[', '['), '\]', ']'), '\/', '/'), '\.', '.'), '\\', '\');
