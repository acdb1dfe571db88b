namespace StateWatch.Core.Tests.Auditing;

/// <summary>The sentences of each rule's first case: what, why, do.</summary>
internal static class RuleSentences
{
    public static IReadOnlyDictionary<string, string[]> Of { get; } = new Dictionary<string, string[]>(StringComparer.Ordinal)
    {
        ["wrong-show-file"] =
        [
            "The desk has the show file 'Midsummer' loaded, planned is 'Midwinter'",
            "Nothing below can be trusted until the right show is loaded.",
            "Call the engineer before anything is recalled; everything down first.",
        ],
        ["playback-as-inputs"] =
        [
            "The desk's inputs come from 'recorder', planned is 'stage'",
            "Live microphones are dead although meters move.",
            "Main faders down first, then switch the inputs back to the stage.",
        ],
        ["cue-not-open"] =
        [
            "Lectern (input 25) is muted; it should be open at cue Sermon",
            "It is silent when it should be heard.",
            "Fader down first, then unmute input 25 and bring it up slowly.",
        ],
        ["cue-not-closed"] =
        [
            "Choir 4 (input 20) is open at cue Sermon; it should be closed",
            "It is heard when it should be silent, and an open microphone can squeal.",
            "Mute it: input 20.",
        ],
        ["feed-shut"] =
        [
            "Room (main 1) is muted",
            "Nobody in the room hears anything.",
            "Ask who muted it; then room fader down first, unmute main 1 and bring it up slowly.",
        ],
        ["feed-starved"] =
        [
            "Overflow (matrix 5) gets nothing: the one planned way into it is off or down",
            "The other room hears nothing.",
            "Output fader down first, then put the sends to matrix 5 back one by one.",
        ],
        ["feed-source-off"] =
        [
            "Voices (group 1) does not go to stream left (matrix 2): that way is off",
            "It is not heard on the stream.",
            "Send or fader down first, then put group 1 to matrix 2 back.",
        ],
        ["muted-by-group"] =
        [
            "Mute group 1 (Talk) is active",
            "Lectern, Headset 1, Headset 2 and 2 more are silent, whatever their own mutes say.",
            "Ask who pressed it; their faders down first, then release mute group 1 and bring them up slowly.",
        ],
        ["feedback-margin"] =
        [
            "Lectern (input 25) is close to feedback by wedges 1 (mix 1): 2 dB ±3 left as it will be when opened, 10 dB ±3 as planned",
            "It squeals when somebody steps nearer or cups a hand around the microphone. Measured 2026-11-22 by A. Engineer. The desk knows nothing of people, microphones and amplifiers: ears decide.",
            "Fader down first, then input 25, send level to wedges 1 (mix 1) back to -10.0 dB: it wins back about 8 dB.",
        ],
        ["too-many-open"] =
        [
            "Wedges 1 (mix 1): 3 microphones open, as much as 3.0 equally loud ones, planned at most 2",
            "About 2 dB less gain before feedback for everyone there, and more of the room in every voice. Loudest: Lectern, Guest 1, Guest 2.",
            "Faders down of those that nobody speaks or sings into.",
        ],
        ["mic-too-hot"] =
        [
            "Handheld 1 (input 28) is 15 dB louder in wedges 1 (mix 1) than planned: input 28, send level to wedges 1 (mix 1) is 0.0 dB, planned -15.0 dB",
            "It squeals that much sooner, and first when somebody steps nearer.",
            "Bring it down to -15.0 dB: input 28, send level to wedges 1 (mix 1).",
        ],
        ["direct-and-by-group"] =
        [
            "Lectern (input 25) goes to room (main 1) twice: by Voices (group 1) and directly",
            "It is too loud, and hollow where the two ways differ in delay or processing; the group's fader and mute no longer close it.",
            "Switch it off: input 25 to main 1, the direct way.",
        ],
        ["parked-open"] =
        [
            "Input 45 is parked, but it is open and goes to room (main 1)",
            "Whatever is plugged in there is heard, and no label says what it is.",
            "Fader down first, then mute input 45, and ask whose it is.",
        ],
        ["one-leg"] =
        [
            "Playback R (input 36) reaches loop (matrix 4), which is mono, but Playback L (input 35) does not",
            "Half of it is missing for everybody who hears 'loop'.",
            "Bus fader down first, then send input 35 to matrix 4 as its other side.",
        ],
        ["unit-half-inserted"] =
        [
            "Hush A sits on Keys R (input 14) but not on Keys L (input 13), which has insert Polish",
            "One of the two is processed and the other is not: a pair pulls to one side, two voices no longer match.",
            "Both faders down first, then insert Hush A on input 13.",
        ],
        ["on-alternate"] =
        [
            "Lectern (input 25) runs on its spare microphone (stage 26), planned stage 25",
            "It is heard by another microphone, which may differ in tone and level.",
            "Do not change it while somebody speaks; later, fader down first, patch input 25 back to stage 25. Leave this to whoever knows the patch.",
        ],
        ["ratio-off"] =
        [
            "Talker is 12.4 dB over guitars at fills, planned 6.0 dB within 1.5 dB (against room)",
            "Who listens there hears too little of guitars beside talker.",
            "Fills fader down first, then compare the faders of the groups and of room with the plan.",
        ],
        ["level-guard"] =
        [
            "Talker 1 (input 25) is 5.0 dB louder at room than planned; 4 dB more is allowed",
            "Feedback comes sooner, and it stands out from the rest. A sweep has no record of the build, so this is measured from the plan.",
            "Bring it down at its fader (input 25); then look for what moved: gain, trim, DCA, group or send, or another way there.",
        ],
        ["oscillator-on"] =
        [
            "The oscillator is on",
            "A test tone goes to every bus it is routed to; it can be loud.",
            "Switch the oscillator off.",
        ],
        ["solo-in-place-armed"] =
        [
            "Solo-in-place is armed",
            "At the next touch of a solo key everything else vanishes from the room.",
            "Switch solo-in-place off while no solo key is lit.",
        ],
        ["external-mute-on"] =
        [
            "An external mute is active",
            "Loudspeakers are held silent from outside the desk, perhaps by the fire alarm.",
            "Main faders down, then find out who holds it; never bridge it.",
        ],
        ["clock-unlocked"] =
        [
            "The desk's clock is not locked",
            "Clicks and dropouts on every digital connection.",
            "Call the engineer: clock source and cables. Never change the clock during the show.",
        ],
        ["talkback-public"] =
        [
            "Talk circuit 1 of the desk is routed to room (main 1)",
            "The next private word goes out to everybody who hears 'room'.",
            "Switch that route off: talk 1 to main 1.",
        ],
        ["click-public"] =
        [
            "Click (input 39) is routed to room (main 1)",
            "Everybody who hears 'room' hears the click.",
            "Switch that route off: input 39 to main 1.",
        ],
        ["subs-on-open-mic"] =
        [
            "Vocal 1 (input 15) is on in the low-frequency feed subs (mix 15)",
            "Boom, rumble and feedback in the subwoofers.",
            "Switch it off: input 15, send to mix 15.",
        ],
        ["monitor-post-fader"] =
        [
            "Acoustic (input 12) goes to wedges 1 (mix 1) post-fader, planned pre-fader",
            "Room faders move somebody's monitor mix.",
            "Send down first, then set the send of input 12 to mix 1 to pre-fader.",
        ],
        ["effects-pre-fader"] =
        [
            "Vocal 1 (input 15) goes to the effect Hall (mix 13) pre-fader, planned post-fader",
            "The effect stays when the voice is faded out.",
            "Send down first, then set the send of input 15 to Hall (mix 13) to post-fader.",
        ],
        ["insert-on-neighbour"] =
        [
            "Hush A is inserted on Choir 8 (input 24), planned on Lectern (input 25)",
            "Lectern is unprocessed, and its neighbour is processed by the wrong settings.",
            "Both faders down first, then move Hush A from input 24 to input 25.",
        ],
        ["insert-missing"] =
        [
            "Lectern (input 25) has insert Polish, planned Hush A",
            "The channel is silent or unprocessed.",
            "Fader down first, then insert Hush A on input 25.",
        ],
        ["mute-group-member-missing"] =
        [
            "Choir 3 (input 19) is not in mute group 1 (Stage)",
            "It stays open when mute group 1 (Stage) should silence all.",
            "Add input 19 to mute group 1 (Stage).",
        ],
        ["mute-group-member-unplanned"] =
        [
            "Choir 3 (input 19) is in mute group 2 (Talk), where it was not planned",
            "It falls silent when that group is muted for the others.",
            "Fader down first, then take input 19 out of mute group 2 (Talk).",
        ],
        ["dca-member-missing"] =
        [
            "Kick (input 1) is not on DCA 4 (Drums)",
            "DCA 4 (Drums) does not move it, so it is not found from the first layer of faders.",
            "Fader down first, then add input 1 to DCA 4 (Drums).",
        ],
        ["dca-member-unplanned"] =
        [
            "Lectern (input 25) is on DCA 2 (Choir), where it was not planned",
            "It jumps whenever somebody moves DCA 2 (Choir).",
            "Fader down first, then take input 25 off DCA 2 (Choir).",
        ],
        ["source-missing"] =
        [
            "Kick (input 1) has no source, planned stage 1",
            "Kick is silent.",
            "Fader down first, then patch input 1 to stage 1; leave this to whoever knows the patch.",
        ],
        ["source-wrong"] =
        [
            "Kick (input 1) takes its signal from stage 37, planned stage 1",
            "The label says Kick, but another microphone or none is heard.",
            "Fader down first, then patch input 1 to stage 1; leave this to whoever knows the patch.",
        ],
        ["output-source-missing"] =
        [
            "room left (output stage 1) is fed by nothing, planned main 1 left",
            "What was meant for 'room left' does not leave the desk here.",
            "Bus fader down first, then patch output stage 1 to main 1 left; leave this to whoever knows the patch.",
        ],
        ["output-source-wrong"] =
        [
            "room left (output stage 1) is fed by mix 16, planned main 1 left",
            "What was meant for 'room left' does not leave the desk here.",
            "Bus fader down first, then patch output stage 1 to main 1 left; leave this to whoever knows the patch.",
        ],
        ["phantom-missing"] =
        [
            "Choir 2 (input 18): phantom power is off at stage 18",
            "Choir 2 is silent or very weak.",
            "Input 18: fader down and mute everywhere first; then phantom power on at stage 18, and wait ten seconds.",
        ],
        ["phantom-unexpected"] =
        [
            "Kick (input 1): phantom power is on at stage 1, planned off",
            "It can harm some ribbon microphones and devices, and switching it makes a loud bang in an open channel.",
            "Ask the engineer; fader down and mute everywhere first, then phantom power off at stage 1, and wait ten seconds.",
        ],
        ["name-changed"] =
        [
            "Input 1 is called 'Snare top', planned 'Kick'",
            "Somebody grabs the wrong fader.",
            "Check what is really on input 1, then write 'Kick' on it.",
        ],
        ["stereo-link-missing"] =
        [
            "Overhead L (input 7) is not linked to its stereo partner",
            "Half of the source stays behind when somebody moves the other half.",
            "Both faders down first, then link input 7 and 8.",
        ],
        ["low-cut-off"] =
        [
            "Vocal 1 (input 15): the low-cut filter is off",
            "Boom, wind and footsteps are heard, and low feedback comes sooner.",
            "Switch the low-cut filter on: input 15.",
        ],
        ["limiter-out"] =
        [
            "room left (output stage 1): the limiter is out",
            "Nothing in the desk protects loudspeakers or ears from a sudden peak.",
            "Switch the limiter in: output stage 1.",
        ],
        ["talk-latched"] =
        [
            "The key of talk circuit 1 is on, and the circuit goes to room (main 1)",
            "Every word spoken near the talk microphone goes out at this moment.",
            "Switch it off: the key of talk 1.",
        ],
        ["effect-into-itself"] =
        [
            "The effect Hall (effect return 1) goes back into its own send Hall (mix 13)",
            "It feeds itself, once round -20.0 dB besides what the effect adds: it rings, swells and squeals without anybody singing.",
            "Switch it off: effect return 1, send to mix 13.",
        ],
        ["effect-outside-mute-group"] =
        [
            "The effect Hall (effect return 1) is not in mute group 3 (Effects)",
            "It stays open under speech when the effects should be muted.",
            "Add effect return 1 to mute group 3 (Effects).",
        ],
        ["stream-follows-room"] =
        [
            "Stream left (matrix 2) is fed from room (main 1), which the plan does not want",
            "When somebody moves or closes the room's faders, it moves or dies with them.",
            "Switch it off: main 1, send to matrix 2.",
        ],
        ["insert-twice"] =
        [
            "Hush A is inserted on Choir 8 (input 24) and on Lectern (input 25)",
            "One of the two is silent, or both are heard in each other's channel.",
            "Both faders down first, then take Hush A out of input 24.",
        ],
        ["insert-without-unit"] =
        [
            "Lectern (input 25) has its insert in, but no unit there; planned Hush A",
            "The signal may end there: the channel is silent.",
            "Fader down first, then insert Hush A on input 25.",
        ],
        ["open-mic-without-dca"] =
        [
            "Vocal 1 (input 15) is an open microphone on no DCA, planned on DCA 3 (Vocals)",
            "When it squeals, nobody finds it from the first layer of faders.",
            "Fader down first, then add input 15 to DCA 3 (Vocals).",
        ],
        ["stereo-crossed"] =
        [
            "Overhead L (input 7) and Overhead R (input 8) are crossed",
            "What belongs on the left is heard on the right.",
            "Both faders down first, then patch input 7 to stage 7 and input 8 to stage 8; leave this to whoever knows the patch.",
        ],
        ["stereo-one-side"] =
        [
            "room left (output stage 1) carries main 1 right, planned main 1 left",
            "Half of what is played is missing, the other half is heard on both sides.",
            "Bus fader down first, then patch output stage 1 to main 1 left; leave this to whoever knows the patch.",
        ],
        ["output-on-another-feed"] =
        [
            "wedges 1 (output stage 5) carries the feed 'fills' (matrix 1), planned mix 1",
            "Who should hear 'wedges' hears 'fills', perhaps much too loud.",
            "Bus fader down first, then patch output stage 5 to mix 1; leave this to whoever knows the patch.",
        ],
        ["source-shared"] =
        [
            "Kick (input 1) takes stage 2 as Snare top (input 2) does, planned stage 1",
            "Two faders carry one microphone; what belongs on Kick is not heard, and the other is too loud.",
            "Fader down first, then patch input 1 to stage 1; leave this to whoever knows the patch.",
        ],
        ["gain-moved"] =
        [
            "Choir 2 (input 18): gain at stage 18 is 20.0 dB, planned 32.0 dB (30.0 dB to 34.0 dB)",
            "It is softer in every mix at once, monitors and stream as well.",
            "Fader down first and its sends too, then gain 32.0 dB at stage 18; leave this to the engineer.",
        ],
        ["pad-changed"] =
        [
            "Kick (input 1): the pad at stage 1 is out, planned in",
            "It is much louder in every mix at once, and distorts.",
            "Ask the engineer; fader down and mute everywhere first, then the pad in at stage 1.",
        ],
        ["linked-faders-apart"] =
        [
            "Playback L (input 35) and Playback R (input 36) are linked, but fader is 0.0 dB and -5.0 dB",
            "One side is louder than the other.",
            "Both faders down first, then set both sides alike.",
        ],
        ["stereo-partners-differ"] =
        [
            "Playback L (input 35) and Playback R (input 36) are linked, but polarity is off and on",
            "It is thin or gone where both sides are added.",
            "Both faders down first, then set both sides alike.",
        ],
        ["stage-box-missing"] =
        [
            "Stage box 1 is missing",
            "Every microphone and every output on it is dead: Kick, Snare top, Snare under and 13 more.",
            "Main faders down, then look at power and cable of box 1; when it comes back, everything on it comes back at once.",
        ],
        ["stage-box-swapped"] =
        [
            "Stage box 1 is 'Middle', planned 'Left'",
            "Its microphones and outputs are on each other's faders.",
            "Main faders down first, then call the engineer: the cables of the boxes are swapped.",
        ],
        ["stage-box-leg-down"] =
        [
            "Cable 1 of stage box 1 is down",
            "No spare way is left: the next fault silences the whole box.",
            "Do not touch the cable that still works; call the engineer about cable 1 of box 1.",
        ],
        ["polarity-changed"] =
        [
            "Snare under (input 3): polarity is off, planned on",
            "It turns thin or hollow where it meets other microphones or loudspeakers.",
            "Fader down first, then polarity on: input 3.",
        ],
        ["gate-key-wrong"] =
        [
            "Playback L (input 35): gate or ducker listens to none, planned group 1",
            "It stays low, or does not make way, whoever speaks.",
            "Fader down first, then set the key of input 35 to group 1.",
        ],
        ["automix-member-missing"] =
        [
            "Lectern (input 25) is not in the automix",
            "It stays open while others speak: hollow voices, and feedback comes sooner.",
            "Fader down first, then put input 25 into the automix.",
        ],
        ["send-without-pan"] =
        [
            "Overhead L (input 7) does not follow its pan into ears-a left (mix 5)",
            "Left and right collapse into the middle.",
            "Send down first, then let the send of input 7 to mix 5 follow the pan.",
        ],
        ["direct-out-post-fader"] =
        [
            "Kick (input 1): the direct out is taken post-fader, planned input",
            "Recordings and whoever else takes it fade with the room.",
            "Fader down first, then set the direct out of input 1 to input.",
        ],
        ["sends-on-fader-left-on"] =
        [
            "The faders show the sends of a mix, not the room",
            "Whoever moves a fader moves somebody's monitor mix.",
            "Do not move a fader; switch sends-on-fader off.",
        ],
        ["recall-would-undo"] =
        [
            "Lectern (input 25) is not held back from recalls",
            "The next recall may open this microphone, or close it.",
            "Do not recall anything; call the engineer to set input 25 aside from recalls.",
        ],
        ["colour-changed"] =
        [
            "Lectern (input 25) has the colour moss, planned amber",
            "Whoever looks for a colour grabs the wrong fader.",
            "Check what is really on input 25, then give it the colour amber.",
        ],
        ["key-changed"] =
        [
            "Key 1 of the desk does 'mute group 2', planned 'mute group 1'",
            "Whoever presses it gets something else than the label says.",
            "Do not press key 1; call the engineer to give it back 'mute group 1'.",
        ],
        ["source-silent"] =
        [
            "Vocal 1 (input 15) gives no signal",
            "Nobody will hear it: battery, switch or cable.",
            "Fader down first, then look at battery, switch and cable: input 15.",
        ],
        ["feed-depends"] =
        [
            "Stream hangs on room: room (main 1) goes to stream left (matrix 2)",
            "The fader, mute and EQ of room move it; the plan says 'independent-of: room' (34:48).",
            "Switch it off: main 1 to matrix 2.",
        ],
        ["must-carry-silent"] =
        [
            "Voices (group 1) is muted: Lectern, Headset 1 and 5 more do not arrive at stream and loop",
            "Nothing of them is heard there, however far the faders are up.",
            "Fader down first, then unmute group 1 and bring it up slowly.",
        ],
        ["parallel-only"] =
        [
            "Kick (input 1) goes to Drum squash (group 2) but not to Instruments (group 4)",
            "Only what the parallel group makes of it is heard: flat, small and without attack.",
            "Fader down first, then put input 1 to group 4 back.",
        ],
        ["carried-against-plan"] =
        [
            "Click arrives at room, fills and 3 more by Tracks (group 5), then room (main 1), against the plan",
            "The plan says 'only: ears-a, ears-b' (59:38): who listens there hears what must not be heard.",
            "Switch it off: input 39 to group 5.",
        ],
        ["double-routed"] =
        [
            "Choir 1 arrives twice at room, fills and 3 more: as planned, and by Voices (group 1), then loop (matrix 4)",
            "Both ways add up to +12.4 dB over the planned one, and sound hollow where they differ in delay or processing.",
            "Switch it off: input 17 to group 1.",
        ],
        ["electrical-loop"] =
        [
            "Buses feed each other: effect return 1 to mix 14 to effect return 2 to mix 13 to effect return 1",
            "Once round is 0.0 dB (Hall (effect return 1) 0.0 dB, Plate (mix 14) 0.0 dB, Plate (effect return 2) 0.0 dB, Hall (mix 13) 0.0 dB): it builds up and howls without any microphone.",
            "Faders of these buses down first, then switch off what the plan does not want: effect return 1 to mix 14 to effect return 2 to mix 13 to effect return 1.",
        ],
        ["drift"] =
        [
            "fills (output stage 4): delay is 62.0 ms, planned 6.2 ms",
            "Sound arrives too early or too late: echo, or lips out of step.",
            "Fader down first, then set it back to 6.2 ms.",
        ],
    };
}
