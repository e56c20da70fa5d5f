"""Every row of a list of published definitions is answered in a sense that agrees with it.

The list stands beside the checkout, not in it: a row is known here by its number and by the SHA-256 of its four fields joined by tabs.
What agrees was written down from the meaning that the row gives; the answers had been seen by then, so it is no blind test. The senses
of the term must hold one of these roles or notices.
"""

from __future__ import annotations

import csv
import hashlib
from pathlib import Path

import pytest

from margent.lettering.reader import Reader, lettering_of
from margent.lettering.transcription import Lettering, Line
from margent.lettering.words import Words

ROWS = [
    # number, SHA-256, what agrees with the meaning given
    (1, "d1bb01f1d4ec915495b2df1c6dc0da4e8849c1e9f0b6e41d5e7995e9c3d8f267", {"etcher"}),
    (2, "464658a6fc18279066fcc5912f61763204e8d2af74a2e63ff11fe9d3480fa5d2", {"etcher"}),
    (3, "2566ed74a971b8e12aecc5f6d8ea632a76b17b6a5ca0e98e6634907328994fcb", {"etcher"}),
    (4, "c1c3901cfcbe1bcfd3cb7c3e31029acb6d70313ca6245069cad05169a8444322", {"etcher"}),
    (5, "80f0f3f8b0989bcb5fbd265923a4095a4a27bf4de0eceb32280e874290d2f479", {"etcher"}),
    (6, "886c6cb01a59d1330bf46be878e86d5371a5300a140621bd6b2d8757bdd1784f", {"proof"}),
    (7, "2a84282337e6f4723b985412e415e22a6d2f84919dfab3fa599f7d2033055452", {"privilege"}),
    (8, "a3cedd98cc3325f61088005c2f08efcd348a7689ec641bcb1c72e22792a7bcfb", {"aquatinter"}),
    (9, "72c3921d5e11616fdc65f4e7a32b0188e3fe683f92b5be551ab157130dc2ea63", {"proof"}),
    (10, "45cd7a8ce3c9555f1a5c53b5a0fe40bf7e33150e2a6f3d24034a460885908f0f", {"engraver"}),
    (11, "10773be363e65b18fa5773792672d1454abc5c4cd0c035f5c5fed54b90e98a65", {"engraver"}),
    (12, "b9c4602543aeadda4ef58091fbd3b267ac76154ccca36ff0eb1c6d02b28411ab", {"designer", "draughtsman"}),
    (13, "0daae176b88e581220f20dcabc45f0186f178fa373f675a97f64905a6dd04f91", {"privilege"}),
    (14, "1d3757dec2101721a8fddf76bbab3f648b7e0fa71b4259ba32db738515ca836f", {"privilege"}),
    (15, "dee0735c677cd98f9b88d71052fb02d43b0cdf9a8ebfbba8dc6f13ab2ac24b7c", {"privilege"}),
    (16, "308bfcfac49e67fa5f1095bcbc0fd78a1a465944703140b12fc8d73493283e1e", {"draughtsman"}),
    (17, "98bd07c5515546b0d3e923e45598ab6ec347cbb670554bccbf8f54751da38c85", {"draughtsman"}),
    (18, "7c750d41ba20504e5c1347fbe1c973a215550c732e71d8c63d4745079a68b267", {"draughtsman"}),
    (19, "c798c48b2e3b3cc4a226c2d2cf7ede8ef7bf61150db0ec7bafcaa7327e172d3b", {"painter", "draughtsman"}),
    (20, "7e8c73eafb2432e13b5959189e4a08ea952ab1e886deb800cfbac391403cdc0f", {"painter", "draughtsman"}),
    (21, "3381deec0284c9eaec4348f38afc4afeb073e853ed35396f5b1d13d8dbb1f334", {"designer", "draughtsman"}),
    (22, "195d3ac4317dc1a64883487456482aa96f47f34ec9d97033dc65aac75f332235", {"draughtsman"}),
    (23, "3d40f2c18b8e2ccfacfa3557284a04d08108044747cf7a7d2828587cfdd1fc37", {"director"}),
    (24, "0f630cdf6ca85783c02843227887a99913651e67bf15490de1c500580a6a27ae", {"publisher"}),
    (25, "46cb58d7dcd637f0265c8eaeecdcf77648fc37ac349f377c4cd82da0bdd35179", {"copyright-entry"}),
    (26, "4cc3bfe6c3aa00c1bf9394df9614f64cea70868b14fe85a24940ac92c53e65b6", {"draughtsman"}),
    (27, "44aa0cd4ece73884cf94eee33b84c332aa87487f859f4d80c44270c32b5af23f", {"engraver"}),
    (28, "7fcb4f08fc89e82a82c184e816f179ac1a8ee1d47f6ea04b8f2acad8d14414ef", {"engraver"}),
    (29, "c57753aeacd3f17345d853ec078c73f6c20eabc3852a66bc0a3067ecca911d41", {"publisher", "printer"}),
    (30, "952966eaa81063fc7b3d7af08ed6a22da9ee96d05f9fc0e18f0fafe6e54f9f42", {"publisher", "printer"}),
    (31, "4f9d2ac5fb3b694b06abba35a642c81d7a7b8bb7533a43c05262cd917e52a604", {"publisher", "printer"}),
    (32, "ab17ebca8e98788960f01306ccd881ff18203118a50bbfa6a2a1e51c61b3d1a4", {"publisher", "printer"}),
    (33, "20fee8b9ae53a0e6305a9df8b64134ec92c114b0ebf3eb612021af7a6fd9b6a7", {"printmaker"}),
    (34, "340217511b3b9ebd48f6e0fa4d4dedf487c33a2b72b3f86964b05fa59617c54e", {"printmaker"}),
    (35, "bfbb68725d3587bf36638b73ca315e46c9565d8cbbbf672b9aac773c0691828b", {"printmaker"}),
    (36, "d4ef127eca2848223a0259f85be1f9697fc7f525fb8c46b1963145d1d7fcd256", {"printmaker"}),
    (37, "a9d1699c56d677c3bcec32dfa9e514d16528ee255b94628ed7540ad903342146", {"draughtsman"}),
    (38, "862bb8a2b974bbdf688b974d4df1d79e641655d6ec78e71083c46ed89ec33a41", {"printer"}),
    (39, "f85679c2ef968ac377c83f81b169346786d5ede6f6ab875dd41e18d7cbaa25b0", {"draughtsman"}),
    (40, "ebc74b9167703803188f08f8b64fdf7056d7de21a6b8fae8d0588407d8490d40", {"proof", "edition"}),
    (41, "fc362bb9ef44a71e8eaf317f204f9e53193db088bfe611aa741127c8b148a7f3", {"printer"}),
    (42, "ab5a53605f3662989f6fc27558ff40e390318cbf7ad257fe8a571566fac68b47", {"engraver"}),
    (43, "23102f3415ec1e9ab4256d70da689ce448ac72aee7a881761e02e0ce9f9df3a3", {"engraver"}),
    (44, "c9d02b62b350f878e89cd0eac73dd7a3e01ab92e018ab09e768acdec5d71d234", {"designer"}),
    (45, "53f0a3c0d1c3ef3200562244886e93af82ec37f62f689f119626eb94f5fa5bca", {"designer"}),
    (46, "f3d0e33ebdbe560e0ffa2d09d3aa2c1a3108c0b4bd17fe580cc60a55c8d1a2a7", {"lithographer", "printer", "publisher"}),
    (47, "ecedba3fb8321db19c453934ce282c03dde5ff8fea72fc85994850a754025f38", {"lithographer", "printer", "publisher"}),
    (48, "90c2513f3d4110af4c0d9ac0f8bb90e6ea1714745ec183705fa8146f04ad0b9b", {"lithographer", "printer", "publisher"}),
    (49, "c4a70f4af76307eb11992c63a20ff09d57aee8c27aceb6730e9b00f51cb868bf", {"photo-engraver"}),
    (50, "d1b2793722cd13da24b5e6462a6dfbdf21a094ead180af51a14ed672d28b5f51", {"painter"}),
    (51, "8992cf6e25ea4894c76d9f961df83b80a0550a945a45885f3f1275fb99f7e411", {"painter"}),
    (52, "cdc7856b027a72f825d079d4ddd358ae14b1054f4aba16c334500dfeece6d2fc", {"painter"}),
    (53, "8204ab23d2edb648bc035bd2efb26903397de7375e6d31c726fdccf168c308f4", {"painter"}),
    (54, "d2de3e4a5e2409846d8ace0e1fab8e9629619d3e3d4484f2c52010601c547d61", {"letter-engraver"}),
    (55, "25b64fff84ba732a251b7b4c30bce2ac8293b002a911f7be5d3f5d5567c3d0ae", {"engraver", "etcher"}),
    (56, "01a9608c87012d1edfd6f088ae97f2d09b70ca924691386c1cb717ee4169df0e", {"engraver", "etcher"}),
    (57, "83d6aa41b54451ef1138a14ebdfbf3794ae13264c3594fb415408695986c4464", {"engraver", "etcher"}),
    (58, "bb33bc348519f5d0672df846abb2bd4e5106c0b7d60eb25fb81aef1f71b272cf", {"engraver", "etcher"}),
    (59, "b6f67c166729fd123e7b031b1cf027ec011a50233054879ea41e30fcf8776aa1", {"publisher"}),
    (60, "9c14ebc58eb55150abd6834cf80680897bf3f10b58e8812d8b7942c3a6c47203", {"proof"}),
    (61, "1db9dcbf137862e58380468bbb71910ee8703f86418d8351aeaa2df8d4f031da", {"engraver"}),
    (62, "2af8100a5bbb5f3230fd46831b92ec05754596cecca74e070196e8896961a717", {"privilege"}),
    (63, "88687da989ceb01fa3296fd2af5dbb20743b147e951974334880f7846fd470b1", {"draughtsman"}),
    (64, "eb20215ed164169ceae19e1ce4173c5a1f04649253d5e30369adec45bea4fedb", {"publisher"}),
    (65, "b72e872e05f0d02217e8a2124b79bb518a855e44403091a4b5fc0ddb54b879dc", {"engraver"}),
    (66, "06f45df1be2bd31a99aac49c2be1e36caf2ac790c4a53c92a6bc930a205efbe5", {"printer"}),
    (67, "8f0113cc15552a3d5acefcc341d2817513af704f43e0d1ea575ffc56ddd060e4", {"engraver"}),
    (68, "3c79daff452c8c5d374e759b4a254508b7135f8b761b51f66b91911126923cd6", {"designer", "draughtsman"}),
    (69, "c24ade7d02b515cd98e7503796bf249fc4e6db74d99ce5a0187b41708d83a7b4", {"painter"}),
    (70, "1904c92e6ae417cc09dd5a743b198a0f131d8af306bd66d02a488a5e33efd19b", {"engraver"}),
    (71, "157f3db0cb855b89f43a93fa803358b9b524585dd5e4cdfc842796101ae5ab40", {"etcher"}),
    (72, "afb446ef1f7a7ffc9a00aa4a86dd655b1010dc563b638ad2bf514d8ab126ad2a", {"publisher"}),
    (73, "a0c076b1b11ddeeea8722bcb4e9fef23f9a544207c4319436c65461dcf32b243", {"aquatinter"}),
    (75, "d27666ba150a8a7320854c2fd17a7a5a79c880e5483c0bb094845a5256270e9b", {"engraver"}),
    (76, "78983875a684998cfadce683182623d3ad74b4724fb269ee0c7252d2ff641602", {"publisher", "seller"}),
    (77, "a24244a1bc174d991a371c5cc7100523c1a7551e9d1d3bfcd5aedb907bf26d43", {"designer", "draughtsman"}),
    (78, "0db6472b477efd8b301eb34517776d5c65d4206df6387f79570c9ccdb7092e7e", {"privilege"}),
    (79, "143dcf0816fccb03c012139018d8c911b02aa4f32492fb7dc4f6f05cbb2cdaf5", {"draughtsman"}),
    (80, "bf19ab048a7e4d76df1f391aa5206cd603c4ae94102af1514c83ac65c70a10b3", {"draughtsman"}),
    (81, "5c34facdaff74a403ff43f1aac449ad8bb135965d66d20563726c40e40adc1b9", {"draughtsman"}),
    (82, "27f767dbeb0b73b23ed49b78d43070ae1e9ae9ea93453a0b4306567d530cf710", {"draughtsman"}),
    (83, "2aef2d517889f1aaed01ae1e480306656aa43fa9195b10585aabe993ae5ea607", {"director"}),
    (84, "3a46ac89dcfe67627f0eeade821f8462b8b1c9f5758d075d1f51a6abd07f33b6", {"publisher"}),
    (85, "ec42b34a19d29a9bdf4862c6e7201bd404223abb29d4e4b1fcfeea169c8a5cc1", {"letter-engraver", "penman"}),
    (86, "5ad17479aaa1eb0a1bfabb6e0dc4b8106fe48033c7fe09b7bc3d4541a56312e5", {"draughtsman"}),
    (87, "7f6ed67b0783295a80bfa7467012e6b82e8d1e351f558fdf81147f41fd001667", {"engraver"}),
    (88, "7f5a99f0aa1a894f8eaff08f69302ac9f3ff6db4f291530fd0a64549a91e0a42", {"owner-of-original"}),
    (89, "7438b65abf89cbfb44e76b0904b286f44ad966fae393681d8161c6671aba7158", {"publisher", "printer"}),
    (90, "9f001942cb77c60607ea36f0bf20068c781e980151403795a8b5ac9662c8a411", {"printmaker"}),
    (91, "7bc2fec482b2891b72c083fb729006821da841830a0d59d28b912403f9955b38", {"draughtsman"}),
    (92, "ae6f17619b8eb9b694298ea620ff36f1183c0139445089d087a41ef7aa40bf24", {"engraver"}),
    (93, "37ba208cf631cb8fa7973e3f6ed83fd297c3e6bfeb91a97c8d3da5d9c83c41d3", {"proof", "edition"}),
    (94, "4624d670c2676ec0640dcbe106fdda74dec8ca80ecfcc625dba06974ee526fe2", {"printer"}),
    (95, "e4a75eefb46a81d3267a14c3d8d7702cfb54616ff3955d0413b5ca46af4552bc", {"engraver"}),
    (96, "69689c4f7bc28490c795c897c5bd28c06d740ba21f8deeac563ecd50bc4bc248", {"designer"}),
    (97, "e14a2830a0cd1403f075e7f7f4cb31ae9c8d075a10d187bd019f956c150563f5", {"letter-engraver"}),
    (98, "d0b8b7a2dcda7fd13c13abfc6f47e4935c15336d5625bfd990c0e613651c2517", {"financier"}),
    (99, "43649f74259398e080d79307366b4e279362641eddf411a5a6fe88ba72f7f6d4", {"compiler"}),
    (100, "aa1d15d6566adfa2cedf36ed65e716a66e42dfdeafdef6cb6e229a6ad3dce0c5", {"publisher"}),
    (101, "dabc73f2daf1e23089d0f4202f09d63de664857b3dbfa54679434803b3b09b20", {"designer", "draughtsman"}),
    (102, "fdc0abf5b8720c89f86c1739bd23e48c034d16131c26437a7f41c445c628b4fc", {"publisher", "printer"}),
    (103, "97c57d6a1a9d4608174b1c02c48f740d21749b9936bcb0254021dee977c74af3", {"draughtsman"}),
    (104, "51ab7e028ee4e4bb55e770c258230f3cf16469093314bb5c4b36a73e1e7decc6", {"author", "cartographer"}),
    (105, "b0c29542c0b48b1f9fac9f9289ce4df024a90caf8c66a58e114674afb426029f", {"privilege", "permission"}),
    (106, "b1fb1bb344dd574e615ceccea4fc30fb7d78f0faed73279e92cb15fde98736a7", {"cartographer"}),
    (107, "2cd7de9af487736812acd645d07a3dc2d5df7cf1477e194b101675f004f555bd", {"designer", "draughtsman"}),
    (108, "541cf67bcd03955d21bdfc3425465db281716664f3d22d8cb6b229f1fdf9887b", {"engraver", "printer"}),
    (
        109,
        "c5bf7f118610d8ae9ea4c624bdb65749fab7153f5f34ed66b936f89769e0c50f",
        {"printmaker", "engraver", "draughtsman"},
    ),
    (110, "29481621a75c598cadffed014d36d24d623a4d02bb6064ddeee2dd5b1a92f058", {"financier"}),
    (111, "43163358713001118e6bbc9805affaae37c5e773989721bca0082bf40dda00d0", {"scale-or-map-note"}),
    (112, "b3fbcfe75bdef667ec31f514b1f5a879c0358515bde3773aaf832e8b855b1f07", {"scale-or-map-note"}),
    (113, "87a840733aa2ad7ab443c9822b8fdede0cb727ca725c4a745edba3d5fe4236d6", {"scale-or-map-note"}),
    (114, "9e2b0fa7e8df1d95922d2181f5abb786e4a7c09d9e2f6474b2715bc8d53134af", {"proof"}),
    (115, "0e9d2ecf53543fc8b1bcadc942059584721025f70ca3e69c9f6115c9b9057b21", {"engraver"}),
    (116, "17fb64f65757fb0d8d52fbfc4d91440ae22f3b0a19b20c7b97284ed4542d2e8d", {"printmaker"}),
    (117, "0e868ac487fd9431cc623012042bf11a061e11864de446bd855f34f67cb098b9", {"designer"}),
    (118, "0ad773fd8d731cdb638f756ad1a566500a676f7ece397221edc0ca0c99da1d19", {"painter"}),
    (119, "9872740a897adc8a7a8a6649d797048ca58169927148853f28771e654beeac13", {"engraver"}),
    (120, "cd160c07dc3a5a803a515858bd8e5ddaae78a87403db6713c45c44dabce2eebc", {"draughtsman"}),
    (121, "e6b26e00ef41bc2e5199b903a78ddd5b5e1fe097af821607eb10e402b22d4b6b", {"lithographer"}),
    (122, "fe530082a353bb0e441dbc9c5e817b1f84b78391285d9ce6e58514cc3db0764a", {"publisher", "printer"}),
    (123, "a194225cc81c06a6d79e23f3034fec1f569578558e3327030a315b4252341371", {"etcher"}),
    (124, "2b0e8acf7a6b087a16852fe7d9c9dd77173a4e2e4514052befb641f89bcada99", {"designer"}),
    (125, "7ba0c561bbb9c05bbf002a6ce38151059a640e99eac03c18d5415047ea4a08a4", {"etcher"}),
    (126, "6eca623ec92a2cc709ef46043f3f48bbc36a5e01e68b08e1724b90d6efd21a4d", {"engraver"}),
    (127, "1e71eb6e8ea28ad6ce24b197f4042e4d5239b33dda4cbc33527f8dd18e25416a", {"director"}),
    (128, "0e0b51212a7c96f9aeb2fb82395d2276fc405615f17934877fc2eb8078cf0b51", {"owner-of-original"}),
    (129, "b015632c86c860897bec99219585c89036ff5ff7eb159a8040899f8ffeb104a1", {"publisher", "printer"}),
    (
        130,
        "e18223ddef8f8e08128dec9268d672043d9074378ca28e5ea5884c136773da18",
        {"printer", "publisher", "workshop-master"},
    ),
    (131, "1dae143812a0923bd02e1c4f03de300af3b9f81bfa3d58fd038f7cbeb49104ef", {"aquatinter"}),
    (132, "7ce134cc0ab74ca75b8f4d4fb761e797cdd197468a93c92c9eccca9c6ede5c11", {"engraver"}),
    (135, "9da75f54126553aeb7ec8ce27b724d2001448c1844cff6a5e9432017cba996f9", {"draughtsman"}),
    (136, "d36971728f52e40d660d791f5b17fea77afae1f08bd4d91eab63cdc3b8a64b8a", {"lithographic-printer", "printer"}),
    (137, "089e4882d6680a3c1cea88f56de9fcbf94cc1557dab35fd676fe41daac962b19", {"engraver"}),
    (138, "751cfdb2981a0837d6c76c47c39d3b003c341876e9096d4f3ce3b93216a3cc5c", {"colourist"}),
    (139, "b9a1b547deb1ab0e0c8b56af9f71780ad80d2122c4b79d2534dd3f295e036a7e", {"engraver"}),
    (140, "bcb7565e8e7de6a2506778f0828384c10a8774f91962951b4db26e9c58dfa5f4", {"designer"}),
    (141, "b7b036528ce8f5f026732d1e9661a64e636aabffaf2b7723354ef9d737c2221b", {"painter"}),
    (142, "0105586f796005ba2662469612be57a82734604688f001f017e66bb83b727645", {"draughtsman"}),
    (143, "8ea943b4462bd4e88607a39a76b3fd627b9b27fc8c0b3ec1e31095c1858f2899", {"publisher"}),
    (144, "5991d1a00702f3b3e3249d35ce6846ee36f9590b58c0d11efeb42502d3e22dcf", {"publisher"}),
    (145, "ffab5346b3c6d5b4d81be9c84610ca2830d04aa73cc9651162255750dc01fd89", {"draughtsman"}),
    (146, "095e0d2d544c4b2c38d4787df9b2bd0b670e1d915ea09a1ee4901039aa954bbd", {"printmaker", "engraver"}),
    (147, "62809fe12546354ed77c677ab0c146770d09d2396be18b84167454b8aa62d09b", {"publisher", "publication-line"}),
    (148, "1519d7708961dcf8bf2e8773f4fd3e073185c199de6916200843fab5dd6ac6f9", {"publisher"}),
    (149, "fae3196baaf0f34dec5146b05642bd5e3c8ba75a15de5a20509db8c67876214f", {"publisher"}),
    (150, "7838a60e03aab933b4301e99edbefab530c54b2156cd9dbf1b4a38c05d7640a8", {"publisher"}),
    (151, "2a31ef69624891b8e71ff8e8c3b56552c1537f10becfdf1a06cdbfbb6a3addc3", {"publisher"}),
    (152, "6bc3859257da684c2a7a89212fecebcff8f4056a1bf94b8f7614c996db061b3d", {"publisher"}),
    (153, "638d824209c994dfc05118a9ab7d2077a7c405728f9d86923a8e754733f218c0", {"publisher", "publication-line"}),
    (154, "cac3a097283c9abcd9693b6407c899deaf08a4549e6f1fa847f7280aa07c754a", {"designer"}),
    (155, "15b06bda61470bc208d593b62c5c255fadd884b3658720e9ab621c2c613049f4", {"engraver"}),
    (156, "394d37ba3301823223f046de40bdc01b5ccd87b14db2b92e4851119c703ebf5f", {"proof", "state"}),
    (157, "fb6e16b913cd02f5aff63f8a252d06fcab728fd0721021f776749cd1158a3507", {"engraver", "burin-engraver"}),
    (158, "a021f29d18bd75ad03fca0134d0d9f310b8812fbbe167e55b9a4f77b1ab96155", {"painter"}),
    (159, "6aea78afd4ba737235db69bbbfb78ba8a77ac09d4212b8327c88d999f8f50466", {"painter"}),
    (160, "e3c86996ae8a4b305b65bbe3613ad7fbc81747cc4be39da0a5a8916b9736cb72", {"draughtsman"}),
    (161, "db1d3446d59ad68d2645d2dfb42e494d37ac4c6eb220941de71df7a756018c71", {"draughtsman"}),
    (162, "9dceb5848bbe21c063b8ef88c93e3a58e4d3d20de99dc51fa6486e0f4109a6ec", {"designer"}),
    (163, "156e1dcb5a3f2e2d28ae04e26ac694316cdb3bf61128930b37bc572fbb31ab47", {"designer"}),
    (164, "1854657e579ecad8663bee4fee18343686d54eb438fcd33e4ca2e0c2ecfeef1e", {"draughtsman"}),
    (165, "6a4a7735b6c766f1b25002c12bb00497cdd4cb51ee5f9b38af5715bd6f6ee998", {"draughtsman"}),
    (166, "3cba5c4975540b183b5dfb307a533a8bc8e921c5701f1b3370b20b460addd508", {"draughtsman"}),
    (167, "35f3c4f51fddfe2f89f42e2f785b9cd1346ec5b4cf2e0e1108399f73ccb40bd1", {"engraver"}),
    (168, "278d1b8a3ddca8cf96ff6955fb77568aabd2a0647023b01e57ac68deb0b37d2e", {"engraver"}),
    (169, "7a102640d808a7f63668c25f2b3ada1dd0bccd7096b72602c486bf6ba67fb089", {"engraver"}),
    (170, "052c34624e85fdc0bae3eb1f90445c7631b13d18f3c3858f6f2f2b2dfbf1942d", {"engraver"}),
    (171, "fdfc540f5f483c07177e7556280571c63dc99bb39660ccfca13f28297fdf094b", {"engraver", "etcher"}),
    (172, "f9bad42dd347d6dbc43c17ec701f32841e1ee8f038f8f4de9c8ed269f99f054f", {"engraver", "etcher"}),
    (173, "da4208a80353174c04076ec467ccadc5196a0a8854b2f89b0ef799e7267a4097", {"printmaker", "engraver", "etcher"}),
    (174, "c851ed5f261c9db6ea9c5a765a1f8953f92f671dae62c03c3a88098d4ddab85e", {"printmaker", "engraver", "etcher"}),
    (175, "bec1f42605d0ba98d16ac2cd21c1e6d4743cc68cf43fd90a2958cc9a84aef931", {"designer"}),
    (176, "477c560cd5efab54792330c3a4b2b28db30a1836d1426cf675dedc7a4e6aca92", {"designer"}),
    (177, "c2f0e1a44be6172202f0efc6e1342c33b767711838e909de5ec433ca5536326d", {"proof", "edition"}),
    (178, "9e4b0280db796794bca407f20b628a742cacc3b93764b57e15e987ce2251b959", {"proof", "edition"}),
    (179, "1cd3aaeea0ceb7894331387ce4613187fee59ba98a1676bcec9fae6b8fd3ad7c", {"edition"}),
    (180, "7de4a07fd78e5aecb77af67f02182f0779536e148445ad9fdb7a9f3b1654ccf1", {"copyright-entry", "publication-line"}),
    (181, "c9b85d969f96f534d4a7baec65c2584185a448ab3b28adc456030bffeb8e4252", {"publisher"}),
    (182, "328fe3a5f3d02a711c4a1bf4a04ec8ebf12457e637cf0e10f1d1eff324609497", {"publisher", "seller"}),
    (183, "256968ab6cd1d79d33ca6419874dd0ab0a41b772c523406a86eb10d97e4349d0", {"etcher"}),
    (184, "07a6581a99e1ad26ab2dc31c7a935651d5612867471da93ba2b2b97d712d5f40", {"designer"}),
    (185, "0f2d358813043ccb2f8a372042acc3bfdb030feb31f6a55ea3ceab1a50963e0d", {"privilege"}),
    (186, "fb0435ebd9ef815a657f05d971bb42b1039d91c4291462b9e8d37bc1b1270e1e", {"proof"}),
    (187, "1235a93e0573586afc320fb27ab8c26eeae0142e0ae70ea50a35e13bd862de91", {"engraver"}),
    (188, "de73be27e277b8688ba4112fb0e086b2edb099beeef173b43f74dd06966ae278", {"engraver"}),
    (189, "607bf40ce567ed20e7675fdce6f27586b01a4159395bb23111a0e9721300e1ec", {"publisher", "seller"}),
    (190, "59cf99eb5f3ba64326ae30d22fa81229fbdd7a7b830f5a5b017746007de9c15c", {"designer"}),
    (191, "aaecd1cb3968ca017318bc32d3962ae142e88cab9c98640f31caf5cc0034ba70", {"privilege"}),
    (192, "df726ec0ac75a9e498ff98ac34432f2dab552ee99695ad4d5a6772747344f0a1", {"privilege"}),
    (193, "281b8f03599e33af0b0cde5c95aa1066a4a1be7868461ded5d5a5e5230a0f86a", {"draughtsman"}),
    (194, "8f878af261d1226163ca458d5ddf8494521e9c2eb12dc2ee60504d42b70ca036", {"draughtsman"}),
    (195, "6dfde20dfc48c71c6dc2346fe12a8aea693e32d628b18560bed3b6842cb62ee2", {"deposit"}),
]

NO_TERM = {
    # Rows without a word that states a role or a notice; what the reader makes of each is tested on its own below.
    74: "df5ecc2c63daa69459a98c1c08e52631d353439b09f7052f0e455c4191216571",  # the initials of a town: a place, no role
    133: "88100913229530ba38d97aba0ed8aa9ee100ffb02986cf3229f3b0b5ed4bd4fd",  # a name at the left: a habit, no word
    134: "3b89e8b2b33ad269cdc41d403334d76edc7d59d03b16351dc7f4823709b253c9",  # a name at the right: a habit, no word
}

OF_MAPS = {111, 112, 113}
"""Quarters of the compass state no role either; the vocabulary has them as a map's own words, so that nobody takes them for makers."""

SOURCE, MATRIX = {"designer", "draughtsman", "painter"}, {"printmaker", "engraver", "etcher"}


@pytest.fixture(scope="module")
def published(shared: Path) -> dict[int, dict[str, str]]:
    """The rows of the list by their number, the first below the heading being 1."""
    path = shared / "gold" / "wordlist.csv"
    if not path.is_file():
        pytest.skip("no list of published definitions beside the checkout")
    with path.open(encoding="utf-8", newline="") as file:
        return dict(enumerate(csv.DictReader(file), start=1))


def digest(row: dict[str, str]) -> str:
    return hashlib.sha256(
        "\t".join(row[name] for name in ("term", "meaning", "language", "source")).encode()
    ).hexdigest()


def test_every_row_is_judged(published: dict[int, dict[str, str]]) -> None:
    judged = {number: known for number, known, _ in ROWS} | NO_TERM
    assert len(judged) == len(ROWS) + len(NO_TERM)
    assert {number: digest(row) for number, row in published.items()} == judged


@pytest.mark.parametrize(("number", "known", "agreeing"), ROWS, ids=[f"row-{number}" for number, _, _ in ROWS])
def test_row(published: dict[int, dict[str, str]], words: Words, number: int, known: str, agreeing: set[str]) -> None:
    term = published[number]["term"]
    answers = words.ask(term)
    assert answers, f"row {number}, {term!r}, is not in the vocabulary"
    said = {answer.role or answer.notice for answer in answers}
    assert said & agreeing, f"row {number}, {term!r}, is answered as {sorted(map(str, said))}"
    assert all(answer.source for answer in answers)


def test_quarters_of_the_compass_are_no_makers(published: dict[int, dict[str, str]], words: Words) -> None:
    for number in OF_MAPS:
        assert all(answer.role is None for answer in words.ask(published[number]["term"]))


def test_initials_of_a_town_are_read_as_the_town(published: dict[int, dict[str, str]], reader: Reader) -> None:
    reading = reader.read(lettering_of([published[74]["term"]]))
    assert [place.place.rsplit("/", 1)[-1] for place in reading.places] == ["augsburg"]
    assert not reading.statements


@pytest.mark.parametrize(("place", "agreeing"), [("lower left", SOURCE), ("lower right", MATRIX)])
def test_a_name_without_a_term_is_read_by_its_place(reader: Reader, place: str, agreeing: set[str]) -> None:
    reading = reader.read(Lettering((Line("A. Verrou", place=place),)))
    assert {role for statement in reading.statements for role in statement.roles} <= agreeing
    assert reading.statements
